/**
 * Draws charts for the pages: node draw_charts.mjs
 *
 * A list of charts comes in as JSON, as calcs/engine/chart.py gives them; a list of texts goes out. The
 * code that draws is the browser's own, over a light DOM.
 */

import { text } from 'node:stream/consumers';

import { parseHTML } from 'linkedom';

import { chartFigure } from './src/chart/figure.js';

const { document } = parseHTML('<!doctype html><html><body></body></html>');
const charts = JSON.parse(await text(process.stdin));
process.stdout.write(JSON.stringify(charts.map(drawn)));

/**
 * @param {import('./src/chart/chart-types.js').Chart} chart
 * @returns {string}
 */
function drawn(chart) {
  const figure = chartFigure(/** @type {any} */ (document), chart);
  for (const node of figure.querySelectorAll('[aria-label]')) {
    // The light DOM writes attributes as they are: an "&" would begin the name of a character.
    node.setAttribute(
      'aria-label',
      node.getAttribute('aria-label')?.replaceAll('&', '&amp;') ?? '',
    );
  }
  return figure.toString();
}
