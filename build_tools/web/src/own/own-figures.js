/** Figures from the reader's own copies, kept on this device for every visit. */

import { own } from './own-kept.js';

/**
 * `value` with its unit; of a table its rows of cells in place of it.
 *
 * @typedef {{name: string, value?: string, rows?: string[][], edition: string, at: string}} OwnFigure
 */

const NAME = /^[a-z][A-Za-z0-9_.]*$/;
const LONGEST = 200;

/** @param {unknown} text @returns {text is string} */
const isShort = (text) => typeof text === 'string' && text.length <= LONGEST;

/** @param {unknown} rows */
const areRows = (rows) =>
  Array.isArray(rows) && rows.every((row) => Array.isArray(row) && row.every(isShort));

/** @param {any} each */
const isFigure = (each) =>
  each !== null &&
  typeof each === 'object' &&
  NAME.test(each.name) &&
  isShort(each.edition) &&
  isShort(each.at) &&
  (isShort(each.value) || areRows(each.rows));

/**
 * What of a value are figures; the rest is left out.
 *
 * @param {unknown} value
 * @returns {OwnFigure[]}
 */
export const figuresIn = (value) => (Array.isArray(value) ? value.filter(isFigure) : []);

/** @returns {OwnFigure[]} */
export const ownFigures = () => figuresIn(own.read().figures);

/** @returns {{own?: OwnFigure[]}} what goes with a question to the calculators */
export function withOwnFigures() {
  const figures = ownFigures();
  return figures.length ? { own: figures } : {};
}

/**
 * @param {string} name
 * @param {OwnFigure | null} figure null takes it out
 * @returns {boolean} whether it is kept
 */
export function keepOwnFigure(name, figure) {
  const others = ownFigures().filter((each) => each.name !== name);
  return own.change({ figures: figure ? [...others, figure] : others });
}
