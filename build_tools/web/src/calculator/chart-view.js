/** Charts of a live answer: drawn by the code that drew the worked example at build. */

import { afterPaint } from '../lib/after-paint.js';

/** @typedef {import('../chart/chart-types.js').Chart} Chart */
/** @typedef {(document: Document, chart: Chart) => HTMLElement} Draw */

/** Where this script lies: the one that draws lies beside it. */
const scriptUrl = /** @type {HTMLScriptElement | null} */ (document.currentScript)?.src ?? '';

/** @type {Promise<Draw> | null} */
let drawing = null;

/** @returns {Promise<Draw>} the script is fetched once, and only where there is a chart */
function whoDraws() {
  const holder = /** @type {{hbChartFigure?: Draw}} */ (/** @type {unknown} */ (window));
  drawing ??= new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = new URL('chart.js', scriptUrl || location.href).href;
    script.addEventListener('load', () => {
      if (holder.hbChartFigure) resolve(holder.hbChartFigure);
      else reject(new Error('chart.js holds nothing that draws.'));
    });
    script.addEventListener('error', () => {
      drawing = null; // the next answer tries again
      script.remove();
      reject(new Error('chart.js could not be fetched.'));
    });
    document.head.append(script);
  });
  return drawing;
}

/** @param {() => void} act */
function whenIdle(act) {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(act);
  else setTimeout(act, 1);
}

/** Shows the charts of an answer in the place that the build left for them. */
export class ChartView {
  /** @type {HTMLElement} */ #result;
  /** @type {Chart[]} */ #wanted = [];

  /** @param {HTMLElement} result the result of a calculator */
  constructor(result) {
    this.#result = result;
    // Fetched before it is wanted, but after all that the page needs sooner.
    if (this.#place) whenIdle(() => whoDraws().catch(() => {}));
  }

  /** The example is put back as fresh nodes, so the place is looked up each time. */
  get #place() {
    return /** @type {HTMLElement | null} */ (this.#result.querySelector('[data-hb-charts]'));
  }

  /** Forgets an answer whose charts are still to be drawn. */
  forget() {
    this.#wanted = [];
  }

  /** @param {Chart[]} charts */
  async show(charts) {
    const place = this.#place;
    if (!place) return;
    this.#wanted = charts;
    place.hidden = charts.length === 0;
    if (place.hidden) return;
    // A chart of other readings does not stay in sight; its place is kept, so nothing jumps.
    place.toggleAttribute('data-hb-old', true);
    try {
      const draw = await whoDraws();
      await afterPaint(); // the figures first: a reader who types waits for them
      if (this.#wanted !== charts) return;
      place.replaceChildren(...charts.map((chart) => replacing(place, draw(document, chart))));
      place.toggleAttribute('data-hb-old', false);
    } catch {
      // Without the drawing the answer, its tables and its working are all there.
      if (this.#wanted === charts) place.hidden = true;
    }
  }
}

/**
 * A table that the reader has opened stays open.
 *
 * @param {HTMLElement} place
 * @param {HTMLElement} figure
 */
function replacing(place, figure) {
  const old = place.querySelector(`[data-hb-chart="${figure.dataset.hbChart}"] details`);
  const fresh = figure.querySelector('details');
  if (old instanceof HTMLDetailsElement && fresh) fresh.open = old.open;
  return figure;
}
