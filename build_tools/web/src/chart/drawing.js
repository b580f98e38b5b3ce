/** The drawing of a chart, as one <svg>. Runs in a browser, and in Node over a light DOM. */

import { axisBottom, axisLeft } from 'd3-axis';
import { select } from 'd3-selection';
import { allPoints, scaleOf, ticksOf } from './scales.js';
import { addSeries, CAP } from './series.js';
import { lookOf } from './series-look.js';
import { alternative, axisTitle, plainNumber, shown } from './words.js';

/** @typedef {import('./chart-types.js').Chart} Chart */
/** @typedef {import('./chart-types.js').Point} Point */
/** @typedef {import('./scales.js').Scale} Scale */
/** @typedef {import('d3-selection').Selection<SVGElement, unknown, null, undefined>} Part */

/** At the width of a phone the text comes out at 16 px; see chart.css. */
const WIDTH = 340;
const HEIGHT = 300;
const EDGE = { top: 34, right: 17, bottom: 58, left: 52 };
const TICK = 5;
/** Numbers stand clear of the caps of a point on the axis. */
const CLEAR = CAP + 3;
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
  const fromNought = chart.y.scale === 'linear';
  const y = scaleOf(chart.y, spans(points, 1), [HEIGHT - EDGE.bottom, EDGE.top], fromNought);
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
  up.tickSizeInner(EDGE.left + EDGE.right - WIDTH)
    .tickSizeOuter(0)
    .tickPadding(CLEAR)
    .offset(0);
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
  title(HEIGHT - 8, axisTitle(chart.x))
    .attr('x', WIDTH - EDGE.right)
    .attr('text-anchor', 'end');
}

/**
 * @param {import('./chart-types.js').Axis} axis
 * @param {Scale} scale
 * @returns {(value: import('d3-scale').NumberValue) => string}
 */
function format(axis, scale) {
  if (axis.scale === 'log') return (value) => plainNumber(Number(value.valueOf().toPrecision(6)));
  const places = scale.tickFormat(5);
  return (value) => places(value.valueOf());
}
