/** The pieces that a side of paper is put together from. */

import { shapeFor } from '../record/outcome-view.js';

/** @typedef {import('./printed-facts.js').Cell} Cell */
/** @typedef {import('./printed-facts.js').Line} Line */
/** @typedef {{node: HTMLElement, keep?: boolean, side2?: boolean, isReading?: boolean}} Unit `keep`: with what follows */

/**
 * @param {string} name of its look: `hb-printed__…`
 * @param {(Node | string)[]} inside
 * @returns {HTMLElement}
 */
export function box(name, ...inside) {
  const made = document.createElement('div');
  made.className = `hb-printed__${name}`;
  made.append(...inside);
  return made;
}

/** @param {string} text @param {string} [tag] */
export function words(text, tag = 'span') {
  const made = document.createElement(tag);
  made.textContent = text;
  return made;
}

/** @param {string} state @returns {Node} */
const shape = (state) => (state ? shapeFor(state) : document.createTextNode(''));

/** @param {string} title @param {boolean} [side2] @returns {Unit} */
export const heading = (title, side2 = false) => ({
  node: box('title', words(title, 'b')),
  keep: true,
  side2,
});

/** @param {string[]} titles @returns {Unit} */
export const columns = (titles) => ({
  node: box('row hb-printed__row--head', ...titles.map((title) => words(title))),
  keep: true,
  isReading: true,
});

/** @param {Cell | null} cell */
function figure(cell) {
  const place = document.createElement('span');
  if (cell) place.append(shape(cell.state), words(cell.text, 'b'));
  return place;
}

/** @param {Line} line @returns {Unit} */
export function lineUnit({ label, found, left, limit, from, state, word }) {
  const outcome = document.createElement('span');
  outcome.append(shape(state), words(word, 'b'));
  const cells = [words(label), figure(found), figure(left), words(limit), words(from), outcome];
  return { node: box('row', ...cells), isReading: true };
}

/** @param {string} name @param {string} text @returns {Unit} */
export const entry = (name, text) => ({ node: box('entry', words(name, 'b'), words(text)) });

/** @param {string} text @returns {Unit} */
export const paragraph = (text) => ({ node: box('text', words(text)) });
