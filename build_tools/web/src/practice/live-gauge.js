/** A gauge in the reader's hands: what can be done with it, and what it then shows. */

import { make } from './elements.js';

/**
 * @typedef {object} State
 * @property {string} svg
 * @property {string} words
 * @property {{text: string, to: string}[]} acts as many in each state, in one order
 */
/** @typedef {{start: string, states: Record<string, State>}} Live every state that it can be in */

/**
 * The buttons of a gauge. Each stays where it is, so the reader's focus does too.
 *
 * @param {Live} live
 * @param {(state: State) => void} show
 * @returns {HTMLElement[]} what stands below the drawing
 */
export function liveGauge({ start, states }, show) {
  const said = make('p', { is: 'hb-unseen' });
  said.setAttribute('role', 'status');
  const count = states[start]?.acts.length ?? 0;
  const buttons = Array.from({ length: count }, () => make('button', { is: 'hb-button' }));
  const to = (/** @type {string} */ name) => {
    const state = states[name];
    if (!state) throw new Error(`The gauge has no state ${name}.`);
    show(state);
    buttons.forEach((button, place) => {
      button.textContent = state.acts[place]?.text ?? '';
      button.value = state.acts[place]?.to ?? '';
    });
    return state;
  };
  for (const button of buttons) {
    button.type = 'button';
    button.addEventListener('click', () => {
      said.textContent = to(button.value).words;
    });
  }
  to(start);
  return [make('p', { is: 'hb-practice__acts' }, buttons), said];
}
