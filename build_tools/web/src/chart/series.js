/** The lines and the points of a chart. */

import { line } from 'd3-shape';

import { placeOf } from './scales.js';

/** @typedef {import('./chart-types.js').Point} Point */
/** @typedef {import('./chart-types.js').Series} Series */
/** @typedef {import('./scales.js').Scale} Scale */
/** @typedef {import('./drawing.js').Part} Part */

/** Half of the cap at an end of a bar. */
export const CAP = 5;
/** An uncertainty that is less than half a mark wide would hide behind it. */
const HALF_MARK = 5;

/**
 * Adds a line, or points with their uncertainties.
 *
 * @param {Part} svg
 * @param {Series} series
 * @param {import('./series-look.js').Look} look
 * @param {Scale} x
 * @param {Scale} y
 */
export function addSeries(svg, { name, points }, { className, shape }, x, y) {
  const group = svg.append('g').attr('class', className).attr('data-hb-series', name);
  const at = (/** @type {Point} */ point) => [placeOf(x, point[0]), placeOf(y, point[1])];
  if (!shape) {
    const path = line(
      (point) => at(/** @type {Point} */ (point))[0] ?? 0,
      (point) => at(/** @type {Point} */ (point))[1] ?? 0,
    ).digits(2);
    const there = path.defined((point) => point !== null);
    group.append('path').attr('d', there(/** @type {[number, number][]} */ (points)));
    return;
  }
  for (const point of points) {
    if (!point) continue;
    const bars = uncertainty(point, x, y);
    if (bars) group.append('path').attr('class', 'hb-chart__uncertainty').attr('d', bars);
    const [left, down] = at(point).map((value) => value.toFixed(2));
    const mark = group.append('path').attr('class', 'hb-chart__point');
    mark.attr('d', shape).attr('transform', `translate(${left},${down})`);
  }
}

/**
 * Bars with a cap at both ends, as far as the true values may be from a point. Empty where they
 * would hide behind the mark.
 *
 * @param {Point} point
 * @param {Scale} x
 * @param {Scale} y
 */
function uncertainty([across, up, acrossWide = 0, upWide = 0], x, y) {
  const [left, down] = [placeOf(x, across), placeOf(y, up)];
  const level = [-1, 1].map((side) => placeOf(x, across + side * acrossWide));
  const upright = [-1, 1].map((side) => placeOf(y, up + side * upWide));
  const isSeen = (/** @type {number[]} */ ends, /** @type {number} */ middle) =>
    ends.some((end) => Math.abs(end - middle) > HALF_MARK);
  const bars = [
    isSeen(level, left) ? bar(level, (end, off) => [end, down + off]) : '',
    isSeen(upright, down) ? bar(upright, (end, off) => [left + off, end]) : '',
  ];
  return bars.join('');
}

/**
 * @param {number[]} ends
 * @param {(end: number, off: number) => [number, number]} at
 */
function bar(ends, at) {
  const text = (/** @type {number[]} */ place) => place.map((each) => each.toFixed(2)).join();
  const caps = ends.map((end) => `M${text(at(end, -CAP))}L${text(at(end, CAP))}`);
  return `M${ends.map((end) => text(at(end, 0))).join('L')}${caps.join('')}`;
}
