/** How each series looks: by dash and shape first, by colour last. */

import { symbol, symbolCircle, symbolDiamond2, symbolSquare2, symbolTriangle } from 'd3-shape';

/** @typedef {import('./chart-types.js').Series} Series */

const SHAPES = {
  points: [symbolCircle, symbolTriangle, symbolSquare2],
  marks: [symbolDiamond2, symbolSquare2],
};
const SIZES = { points: 90, marks: 260 };

/**
 * The place of a series among those of its kind decides its look. It stays the same when another
 * has nothing to show: calcs names them all.
 *
 * @typedef {object} Look
 * @property {string} className
 * @property {string} shape path of its points, empty for a line
 */

/**
 * @param {Series} series
 * @param {Series[]} all
 * @returns {Look}
 */
export function lookOf(series, all) {
  const { kind } = series;
  const place = all.filter((each) => each.kind === kind).indexOf(series);
  const className = `hb-chart__${kind} hb-chart__${kind}--${place + 1}`;
  if (kind === 'line' || kind === 'limit') return { className, shape: '' };
  const type = SHAPES[kind][place % SHAPES[kind].length];
  return { className, shape: symbol(type, SIZES[kind]).digits(2)() ?? '' };
}
