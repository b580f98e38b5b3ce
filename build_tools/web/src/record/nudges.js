/**
 * Beside a figure that a gauge shows: one step of the gauge less or more, for a hand in a glove. And
 * a sign, where a reading can be below nothing: the keypad of some phones has none. They change what
 * was typed and never begin a reading.
 */

import { canBeNegative, gaugeStepOf } from '../visit/reading-check.js';

const PLAIN = /^-?(?:[0-9]+\.?[0-9]*|\.[0-9]+)$/;

export class Nudges {
  /** @type {HTMLInputElement} */ #input;
  /** @type {HTMLButtonElement[]} */ #buttons = [];

  /**
   * @param {Element} place where the field and its unit stand
   * @param {HTMLInputElement} input
   * @param {string} name of the reading
   * @param {string} label
   */
  constructor(place, input, name, label) {
    this.#input = input;
    const step = gaugeStepOf(name);
    if (canBeNegative(name)) place.prepend(this.#button('±', `Other sign: ${label}`, otherSign));
    if (step) {
      const by = (/** @type {number} */ sign) => (/** @type {string} */ text) =>
        moved(text, sign, step);
      place.prepend(this.#button('−', `Less by ${step}: ${label}`, by(-1), 'hb-nudge--step'));
      place.append(this.#button('+', `More by ${step}: ${label}`, by(1), 'hb-nudge--step'));
    }
    input.addEventListener('input', () => this.update());
    this.update();
  }

  /** They wait for a plain figure: with a unit or a comma of its own nobody knows what a step is. */
  update() {
    const isPlain = PLAIN.test(this.#input.value.trim());
    for (const button of this.#buttons) button.disabled = !isPlain;
  }

  /**
   * @param {string} sign
   * @param {string} label
   * @param {(text: string) => string} change
   * @param {string} [look]
   */
  #button(sign, label, change, look = '') {
    const button = document.createElement('button');
    const className = `hb-nudge ${look}`.trim();
    Object.assign(button, { type: 'button', className, textContent: sign });
    button.setAttribute('aria-label', label);
    // The keyboard stays open, and the field under the eye.
    button.addEventListener('pointerdown', (event) => event.preventDefault());
    button.addEventListener('click', () => {
      this.#input.value = change(this.#input.value.trim());
      this.#input.dispatchEvent(new Event('input', { bubbles: true }));
    });
    this.#buttons.push(button);
    return button;
  }
}

/** @param {string} text @returns {string} */
const otherSign = (text) => (text.startsWith('-') ? text.slice(1) : `-${text}`);

/** @param {string} text @param {number} sign @param {string} step @returns {string} */
function moved(text, sign, step) {
  const places = Math.max(placesOf(text), placesOf(step));
  const value = (Number(text) + sign * Number(step)).toFixed(places);
  return Number(value) === 0 ? value.replace('-', '') : value;
}

/** @param {string} text */
const placesOf = (text) => text.split('.')[1]?.length ?? 0;
