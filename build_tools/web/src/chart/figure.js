/** A chart as a whole: what it shows, the drawing, what is what in it, and its data as a table. */

import { drawing } from './drawing.js';
import { lookOf } from './series-look.js';
import { axisTitle, cell, hasUncertainties, shown } from './words.js';

/** @typedef {import('./chart-types.js').Chart} Chart */
/** @typedef {import('./chart-types.js').Series} Series */

const SVG = 'http://www.w3.org/2000/svg';
const BARS = 'Bars show how far off a point may be.';
const TOO_SMALL = 'A point may be off by less than its mark shows. The table says by how much.';
const KEY = { width: 34, height: 20 };

/**
 * @param {Document} document
 * @param {Chart} chart
 * @returns {HTMLElement}
 */
export function chartFigure(document, chart) {
  const figure = element(document, 'figure', 'hb-chart');
  figure.setAttribute('data-hb-chart', chart.name);
  const title = element(document, 'figcaption', 'hb-chart__title', chart.label);
  const svg = drawing(document, chart);
  const words = element(document, 'div', 'hb-chart__words');
  words.append(legend(document, chart));
  if (hasUncertainties(chart)) {
    const note = svg.querySelector('.hb-chart__points .hb-chart__uncertainty') ? BARS : TOO_SMALL;
    words.append(element(document, 'p', 'hb-chart__note', note));
  }
  words.append(data(document, chart));
  figure.append(title, svg, words);
  return figure;
}

/**
 * @param {Document} document
 * @param {string} tag
 * @param {string} [className]
 * @param {string} [text]
 * @returns {HTMLElement}
 */
function element(document, tag, className = '', text = '') {
  const made = document.createElement(tag);
  if (className) made.setAttribute('class', className);
  if (text) made.textContent = text;
  return made;
}

/** @param {Document} document @param {Chart} chart */
function legend(document, chart) {
  const list = element(document, 'ul', 'hb-chart__legend');
  list.setAttribute('role', 'list');
  for (const series of shown(chart)) {
    const item = element(document, 'li', 'hb-chart__entry');
    item.append(key(document, series, chart.series), element(document, 'span', '', series.label));
    list.append(item);
  }
  return list;
}

/**
 * @param {Document} document
 * @param {Series} series
 * @param {Series[]} all
 */
function key(document, series, all) {
  const { className, shape } = lookOf(series, all);
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'hb-chart__key');
  svg.setAttribute('viewBox', `0 0 ${KEY.width} ${KEY.height}`);
  svg.setAttribute('aria-hidden', 'true');
  const group = document.createElementNS(SVG, 'g');
  group.setAttribute('class', className);
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', shape || `M1,${KEY.height / 2}H${KEY.width - 1}`);
  if (shape) {
    path.setAttribute('class', 'hb-chart__point');
    path.setAttribute('transform', `translate(${KEY.width / 2},${KEY.height / 2})`);
  }
  group.append(path);
  svg.append(group);
  return svg;
}

/** @param {Document} document @param {Chart} chart */
function data(document, chart) {
  const details = element(document, 'details', 'hb-chart__data');
  details.append(element(document, 'summary', 'hb-chart__summary', 'The chart as a table'));
  const table = element(document, 'table', 'hb-data');
  const head = element(document, 'thead');
  const row = element(document, 'tr');
  for (const axis of [chart.x, chart.y]) {
    const cell = element(document, 'th', '', axisTitle(axis));
    cell.setAttribute('scope', 'col');
    row.append(cell);
  }
  head.append(row);
  table.append(head, ...shown(chart).map((series) => rows(document, chart, series)));
  details.append(table);
  return details;
}

/** @param {Document} document @param {Chart} chart @param {Series} series */
function rows(document, { x, y }, { label, points }) {
  const body = element(document, 'tbody');
  const name = element(document, 'th', '', label);
  name.setAttribute('scope', 'rowgroup');
  name.setAttribute('colspan', '2');
  const first = element(document, 'tr');
  first.append(name);
  body.append(first);
  for (const point of points) {
    if (!point) continue;
    const row = element(document, 'tr');
    row.append(element(document, 'td', '', cell(x, point[0], point[2])));
    row.append(element(document, 'td', '', cell(y, point[1], point[3])));
    body.append(row);
  }
  return body;
}
