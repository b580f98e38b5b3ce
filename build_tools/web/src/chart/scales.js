/** Where a number of an axis stands on the drawing. */

import { scaleLinear, scaleLog } from 'd3-scale';

/** @typedef {import('./chart-types.js').Axis} Axis */
/** @typedef {import('./chart-types.js').Chart} Chart */
/** @typedef {import('d3-scale').ScaleLinear<number, number>} Linear */
/** @typedef {import('d3-scale').ScaleLogarithmic<number, number>} Logarithmic */
/** @typedef {Linear | Logarithmic} Scale */

/** @typedef {{value: number, low: number, high: number}} Span a point and its uncertainty on one axis */

const TICKS = 5;
/** A logarithmic axis has at most this many numbers before it shows powers of ten alone. */
const MOST_TICKS = 9;
const LOG_ROOM = 1.15;

/**
 * @param {Chart} chart
 * @returns {import('./chart-types.js').Point[]} points of all series, without the gaps
 */
export const allPoints = (chart) =>
  chart.series.flatMap(({ points }) => points.filter((point) => point !== null));

/**
 * @param {Axis} axis
 * @param {Span[]} spans
 * @param {[number, number]} range where the axis begins and ends on the drawing
 * @param {boolean} fromNought whether a linear axis always shows nought
 * @returns {Scale}
 */
export function scaleOf(axis, spans, range, fromNought) {
  const lows = spans.map(({ low }) => low);
  const highs = spans.map(({ high }) => high);
  if (axis.scale === 'log') {
    const least = Math.min(...lows.filter((low) => low > 0));
    return scaleLog([least / LOG_ROOM, Math.max(...highs) * LOG_ROOM], range);
  }
  const noughts = fromNought ? [0] : [];
  const ends = [Math.min(...lows, ...noughts), Math.max(...highs, ...noughts)];
  // An uncertainty that reaches below nought, where no point is, takes no room.
  if (spans.every(({ value }) => value >= 0)) ends[0] = Math.max(0, ends[0] ?? 0);
  // All points at one place: room around it.
  if (ends[0] === ends[1]) ends[1] = (ends[0] ?? 0) + 1;
  return scaleLinear(ends, range).nice(2 * TICKS);
}

/**
 * @param {Axis} axis
 * @param {Scale} scale
 * @returns {number[]} the numbers shown at an axis
 */
export function ticksOf(axis, scale) {
  if (axis.scale !== 'log') return scale.ticks(TICKS);
  const round = scale.ticks().filter((tick) => [1, 2, 5].includes(leadingDigit(tick)));
  return round.length > MOST_TICKS ? round.filter((tick) => leadingDigit(tick) === 1) : round;
}

/** @param {number} value a round number */
const leadingDigit = (value) => Math.round(value / 10 ** Math.floor(Math.log10(value) + 1e-9));

/**
 * Keeps a place on the drawing: an uncertainty may reach below nought, where a logarithm has no place.
 *
 * @param {Scale} scale
 * @param {number} value
 */
export function placeOf(scale, value) {
  const [first = 0, last = 1] = scale.domain();
  return scale(Math.min(Math.max(value, first), last));
}
