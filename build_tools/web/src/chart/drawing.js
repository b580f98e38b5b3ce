/** The drawing of a chart, as one <svg>. Runs in a browser, and in Node over a light DOM. */

import { axisBottom, axisLeft } from 'd3-axis';
import { select } from 'd3-selection';
import { line } from 'd3-shape';

import { lookOf } from './marks.js';
import { allPoints, placeOf, scaleOf, ticksOf } from './scales.js';
import { alternative, axisTitle, plainNumber, shown } from './words.js';

/** @typedef {import('./types.js').Chart} Chart */
/** @typedef {import('./types.js').Point} Point */
/** @typedef {import('./types.js').Series} Series */
/** @typedef {import('./scales.js').Scale} Scale */
/** @typedef {import('d3-selection').Selection<SVGElement, unknown, null, undefined>} Part */

/** At the width of a phone the text comes out at 16 px; see chart.css. */
const WIDTH = 340;
const HEIGHT = 300;
const EDGE = { top: 34, right: 12, bottom: 58, left: 52 };
const TICK = 5;
const CAP = 5;
/** Numbers stand clear of the caps of a point on the axis. */
const CLEAR = CAP + 3;
/** A doubt that is less than half a mark wide would hide behind it. */
const HALF_MARK = 5;
const ORDER = ['line', 'limit', 'marks', 'points'];

/**
 * @param {Document} document
 * @param {Chart} chart
 * @returns {SVGElement}
 */
export function drawing(document, chart) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const svg = /** @type {Part} */ (select(/** @type {SVGElement} */ (made)));
  svg
    .attr('class', 'hb-chart__drawing')
    .attr('viewBox', `0 0 ${WIDTH} ${HEIGHT}`)
    .attr('role', 'img')
    .attr('aria-label', alternative(chart));
  const points = allPoints(chart);
  const x = scaleOf(chart.x, spans(points, 0), [EDGE.left, WIDTH - EDGE.right], false);
  const y = scaleOf(chart.y, spans(points, 1), [HEIGHT - EDGE.bottom, EDGE.top], true);
  axes(svg, chart, x, y);
  const drawn = shown(chart).sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
  for (const series of drawn) addSeries(svg, series, lookOf(series, chart.series), x, y);
  return made;
}

/**
 * @param {Point[]} points
 * @param {0 | 1} at which axis
 * @returns {import('./scales.js').Span[]}
 */
const spans = (points, at) =>
  points.map((point) => {
    const [value, wide] = [point[at], point[at + 2] ?? 0];
    return { value, low: value - wide, high: value + wide };
  });

/**
 * @param {Part} svg
 * @param {Chart} chart
 * @param {Scale} x
 * @param {Scale} y
 */
function axes(svg, chart, x, y) {
  const across = axisBottom(x).tickValues(ticksOf(chart.x, x)).tickFormat(format(chart.x, x));
  const up = axisLeft(y).tickValues(ticksOf(chart.y, y)).tickFormat(format(chart.y, y));
  across.tickSizeInner(TICK).tickSizeOuter(0).offset(0);
  up.tickSizeInner(EDGE.left + EDGE.right - WIDTH).tickSizeOuter(0).tickPadding(CLEAR).offset(0);
  svg
    .append('g')
    .attr('class', 'hb-chart__axis')
    .attr('transform', `translate(0,${HEIGHT - EDGE.bottom})`)
    .call(/** @type {any} */ (across));
  svg
    .append('g')
    .attr('class', 'hb-chart__axis hb-chart__axis--up')
    .attr('transform', `translate(${EDGE.left},0)`)
    .call(/** @type {any} */ (up));
  const title = (/** @type {number} */ down, /** @type {string} */ text) =>
    svg.append('text').attr('class', 'hb-chart__name').attr('y', down).text(text);
  title(16, axisTitle(chart.y)).attr('x', 0);
  title(HEIGHT - 8, axisTitle(chart.x)).attr('x', WIDTH - EDGE.right).attr('text-anchor', 'end');
}

/**
 * @param {import('./types.js').Axis} axis
 * @param {Scale} scale
 * @returns {(value: import('d3-scale').NumberValue) => string}
 */
function format(axis, scale) {
  if (axis.scale === 'log') return (value) => plainNumber(Number(value.valueOf().toPrecision(6)));
  const places = scale.tickFormat(5);
  return (value) => places(value.valueOf());
}

/**
 * @param {Part} svg
 * @param {Series} series
 * @param {import('./marks.js').Look} look
 * @param {Scale} x
 * @param {Scale} y
 */
function addSeries(svg, { name, points }, { className, shape }, x, y) {
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
    const bars = doubt(point, x, y);
    if (bars) group.append('path').attr('class', 'hb-chart__doubt').attr('d', bars);
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
function doubt([across, up, acrossWide = 0, upWide = 0], x, y) {
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
