/**
 * The worker that the page made before its script was there: partials/javascripts/worker.html. It
 * begins when the page's first frame is drawn. On a page that nobody looks at there comes none.
 *
 * @typedef {object} Early
 * @property {Worker} worker
 * @property {unknown[]} heard what it has said since; null where it failed
 */

const LATEST_MS = 500;

const holder = /** @type {{hbEarlyWorker?: Early}} */ (/** @type {unknown} */ (globalThis));

/** @returns {boolean} whether one waits to be taken over */
export const hasEarlyWorker = () => Boolean(holder.hbEarlyWorker);

/**
 * Takes it over, once. What it has said is said again to whoever listens by then.
 *
 * @returns {Worker | null} null where there is none that goes
 */
export function takeEarlyWorker() {
  const early = holder.hbEarlyWorker;
  delete holder.hbEarlyWorker;
  if (!early) return null;
  const { worker, heard } = early;
  worker.onmessage = worker.onerror = null;
  if (heard.includes(null)) {
    worker.terminate();
    return null;
  }
  setTimeout(() => worker.postMessage({ begin: 1 }), LATEST_MS);
  queueMicrotask(() => {
    for (const data of heard) worker.dispatchEvent(new MessageEvent('message', { data }));
  });
  return worker;
}
