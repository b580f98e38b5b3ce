/** What a step said of its readings, as the record keeps it. */

import { keptFigure, keptVerdict } from './kept-answer.js';

/** @typedef {import('../protocol/bridge-types.js').StepOutcome} StepOutcome */
/** @typedef {import('./visit-types.js').KeptOutcome} KeptOutcome */

/** @param {{step: string}} outcome */
export const outcomeKey = ({ step }) => `outcome:${step}`;

/** @param {StepOutcome['held_to']} held */
export const heldText = (held) => (held ? `${held.text} · ${held.source}` : '');

/**
 * @param {string} step
 * @param {StepOutcome} outcome
 * @param {{edition: string, at: string}} about
 * @returns {KeptOutcome | null} nothing of a step that waits for a reading
 */
export function keptOutcome(step, outcome, { edition, at }) {
  const { state, reading, label, text, act, held_to: held, figures, verdicts } = outcome;
  if (state === 'waiting') return null;
  return {
    ...{ step, reading, label, edition, at, state, text, act },
    held_to: heldText(held),
    figures: figures.map(keptFigure),
    verdicts: verdicts.map(keptVerdict),
  };
}

/**
 * Whether two say the same, whenever they were kept.
 *
 * @param {KeptOutcome} one
 * @param {KeptOutcome} other
 */
export function sameOutcome(one, other) {
  const said = (
    /** @type {KeptOutcome} */ { step, state, text, held_to, act, figures, verdicts },
  ) => JSON.stringify([step, state, text, held_to, act, figures ?? [], verdicts]);
  return said(one) === said(other);
}
