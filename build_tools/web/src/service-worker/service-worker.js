/**
 * Keeps one whole edition on the device. What belongs to it, with the hash of each file, stands
 * before this script: `build_tools/site/offline.py` writes it there.
 *
 * Workbox fetches what is missing, checks each file against its hash and keeps it under its state.
 * So a download that was cut short goes on where it stopped, a file that changed on the server in
 * the meantime is refused, and the edition before stays whole until the reader takes the new one.
 */

import { PrecacheController, PrecacheRoute } from 'workbox-precaching';
import { registerRoute } from 'workbox-routing';

/** @typedef {{url: string, revision: string, integrity: string, size: number}} Entry */
/** @typedef {{edition: string, bytes: number, files: Entry[]}} Precache */

/** @type {any} */
const scope = globalThis;
const { edition, bytes, files } = /** @type {Precache} */ (scope.hbPrecache);

const sizes = new Map(files.map(({ url, size }) => [new URL(url, location.href).href, size]));
let kept = 0;

/** As runtime-files.js asks for them, so that what the page has fetched is not fetched again. */
const RUNTIME = '/assets/runtime/';
const VERSION = [7, 15]; // of the hash, behind `sha256-`

const controller = new PrecacheController({
  plugins: [
    {
      // Workbox would fetch all of it past the browser's cache. The hash does the same for less.
      async requestWillFetch({ request, event }) {
        if (event?.type !== 'install') return request;
        const { url, integrity } = request;
        const version = encodeURIComponent(integrity.slice(VERSION[0], VERSION[1]));
        const address = url.includes(RUNTIME) ? `${url}?v=${version}` : url;
        return new Request(address, { integrity, cache: 'no-cache', credentials: 'same-origin' });
      },
      async handlerDidComplete({ request, event, error }) {
        if (event.type !== 'install' || error) return;
        kept += sizes.get(request.url) ?? 0;
        void tell({ keeping: { kept, bytes } });
      },
      // Told before the install ends: a browser may end this script with it.
      async handlerDidError({ event, error }) {
        if (event.type === 'install') await tell({ failed: error.name });
        return undefined;
      },
    },
  ],
});
controller.addToCacheList(files);

/** @param {object} message to every page, also one that was here before this script */
async function tell(message) {
  const pages = await scope.clients.matchAll({ includeUncontrolled: true, type: 'window' });
  for (const page of pages) page.postMessage({ hb: message });
}

addEventListener('install', (/** @type {any} */ event) => {
  controller.install(event).catch(() => {}); // its plugin has told why
});

addEventListener('activate', (/** @type {any} */ event) => {
  event.waitUntil(controller.activate(event).then(() => scope.clients.claim()));
});

addEventListener('message', (/** @type {any} */ event) => {
  const { data, ports } = event;
  if (data === 'hb:edition') ports[0]?.postMessage({ edition, bytes });
  if (data === 'hb:take-over') scope.skipWaiting();
  if (data === 'hb:count') event.waitUntil(count().then((found) => ports[0]?.postMessage(found)));
  if (data === 'hb:complete') {
    event.waitUntil(complete().then((found) => ports[0]?.postMessage(found)));
  }
});

/** Files of this edition that are not on the device. A browser short of room may drop some. */
async function missing() {
  const cache = await caches.open(controller.strategy.cacheName);
  const there = new Set((await cache.keys()).map(({ url }) => url));
  return [...sizes.keys()].filter((url) => !there.has(keyOf(url) ?? ''));
}

/** What of this edition is kept, looked up and not remembered. */
async function count() {
  const gone = (await missing()).reduce((sum, url) => sum + (sizes.get(url) ?? 0), 0);
  return { kept: bytes - gone, bytes };
}

/** Fetches what is missing. Without a network, or without room, what can't come stays missing. */
async function complete() {
  for (const url of await missing()) {
    const failed = await fetchAnew(new Request(url), keyOf(url) ?? '').catch((error) => error);
    if (failed instanceof Error) return { ...(await count()), failed: failed.name };
  }
  return count();
}

addEventListener('fetch', (/** @type {any} */ event) => {
  const { request } = event;
  const key = request.cache === 'reload' ? keyOf(request.url) : undefined;
  if (!key) return;
  // A file that was found damaged: from the network, and only as this edition has it.
  event.stopImmediatePropagation();
  event.respondWith(fetchAnew(request, key));
});

// No address of this site means another page for another question mark.
registerRoute(
  new PrecacheRoute(controller, { cleanURLs: false, ignoreURLParametersMatching: [/./] }),
);

/** @param {string} url @returns {string | undefined} what it is kept under */
function keyOf(url) {
  const { origin, pathname } = new URL(url);
  return controller.getCacheKeyForURL(origin + pathname);
}

/** @param {Request} request @param {string} key @returns {Promise<Response>} */
async function fetchAnew(request, key) {
  const integrity = controller.getIntegrityForCacheKey(key) ?? '';
  const fetched = await fetch(request.url, { integrity, cache: 'reload' });
  const cache = await caches.open(controller.strategy.cacheName);
  await cache.put(key, fetched.clone());
  return fetched;
}
