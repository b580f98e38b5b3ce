/** A chart in words and numbers: for those who can't see it, and as a table. */

/** @typedef {import('./chart-types.js').Axis} Axis */
/** @typedef {import('./chart-types.js').Chart} Chart */
/** @typedef {import('./chart-types.js').Point} Point */
/** @typedef {import('./chart-types.js').Series} Series */

/** More points than this are told by their ends: the table has them all. */
const FEW = 6;
/** Digits of an uncertainty that count (JCGM 100, 7.2.6). */
const DIGITS_OF_UNCERTAINTY = 2;
const SPACE = '\u00a0';

/** @param {Chart} chart series that have something to show */
export const shown = (chart) => chart.series.filter(({ points }) => points.length > 0);

/** @param {Axis} axis */
export const axisTitle = (axis) => (axis.text ? `${axis.label} (${axis.text})` : axis.label);

/** @param {number | string} value a number with a true minus sign */
export const plainNumber = (value) => String(value).replace('-', '\u2212');

/**
 * @param {Axis} axis
 * @param {number} value
 * @returns {string}
 */
function number(axis, value) {
  // A logarithmic axis spans sizes that no count of places fits.
  const isLog = axis.scale === 'log';
  const text = isLog ? String(Number(value.toPrecision(4))) : value.toFixed(axis.places);
  return plainNumber(Number(text) === 0 ? text.replace('-', '') : text);
}

/**
 * @param {Axis} axis
 * @param {number} value
 * @param {number} [expanded]
 */
export function cell(axis, value, expanded) {
  const uncertainty = expanded ? ` ± ${Number(expanded.toPrecision(DIGITS_OF_UNCERTAINTY))}` : '';
  return number(axis, value) + uncertainty;
}

/**
 * @param {Chart} chart
 * @param {Point} point
 */
function place({ x, y }, point) {
  const [left, right] = [x, y].map((axis, at) => {
    const text = number(axis, point[at] ?? 0);
    return axis.text ? `${text}${SPACE}${axis.text}` : text;
  });
  return `${left}, ${right}`;
}

/** @param {Chart} chart @param {Series} series */
function told(chart, { label, kind, points }) {
  const there = points.filter((point) => point !== null);
  const [first, last] = [there[0], there.at(-1)];
  if (!first || !last) return label;
  if (kind === 'line' || there.length > FEW) {
    const count = kind === 'line' ? '' : `${there.length} points, `;
    return `${label}: ${count}from ${place(chart, first)} to ${place(chart, last)}`;
  }
  if (kind === 'limit') return `${label}: ${number(chart.y, first[1])}${SPACE}${chart.y.text}`;
  return `${label}: ${there.map((point) => place(chart, point)).join('; ')}`;
}

/**
 * The whole chart in one text.
 *
 * @param {Chart} chart
 */
export const alternative = (chart) =>
  [chart.label, ...shown(chart).map((series) => told(chart, series)), ''].join('. ').trim();

/** @param {Chart} chart whether any reading shows its uncertainty */
export const hasUncertainties = (chart) =>
  chart.series.some(
    ({ kind, points }) => kind === 'points' && points.some((point) => point?.[2] || point?.[3]),
  );
