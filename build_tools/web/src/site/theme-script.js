import { searchWorker } from '../client/folder-edition.js';
import { afterPaint } from '../lib/after-paint.js';
import { siteUrl } from '../lib/site-url.js';

/** @typedef {{next: (value: unknown) => void}} Subject */
/** @typedef {{document$: Subject, location$: Subject}} Theme what the theme's script leaves behind */

const LATEST_MS = 1000; // after the first paint, on a page that is never idle

const place = /** @type {HTMLScriptElement | null} */ (document.currentScript);
const address = new URL(place?.dataset.hbTheme ?? '', location.href).href;

/** @type {Promise<Theme> | null} */
let loading = null;

/**
 * The theme's own script, which does the search box, the display and what Markdown brings along. On
 * a page of ours nothing waits for it: it comes when a reader first asks for what it does.
 *
 * @returns {Promise<Theme>}
 */
export function theme() {
  loading ??= new Promise((resolve, reject) => {
    nameAddresses();
    const script = document.createElement('script');
    script.src = address;
    script.addEventListener('load', () => {
      const loaded = /** @type {Theme} */ (/** @type {unknown} */ (window));
      // It waits for an event of the page that is over by now.
      loaded.document$.next(document);
      resolve(loaded);
    });
    script.addEventListener('error', () => reject(new Error('The theme’s script did not load.')));
    document.body.append(script);
  });
  return loading;
}

/** Loads it on a page in Markdown, and where a host has turned on more of it, after the paint. */
export async function startTheme() {
  document.addEventListener('hb:page', () => void pageShown());
  if (place?.dataset.hbThemeNow === undefined) return;
  await afterPaint();
  // WebKit has no idle callback.
  if ('requestIdleCallback' in window) requestIdleCallback(load, { timeout: LATEST_MS });
  else setTimeout(load);
}

const load = () => void theme().catch(() => {}); // the page is whole without it

async function pageShown() {
  if (!loading) return;
  const { document$, location$ } = await loading;
  document$.next(document);
  location$.next(new URL(location.href));
}

/**
 * Gives the theme the addresses of the site and of the search in full. What the page says of them is
 * counted from where it was loaded, and the reader may have moved on since without a reload. A page
 * that is opened from a folder can start no worker by its address: see folder-edition.js.
 */
function nameAddresses() {
  const config = document.getElementById('__config');
  if (!config) return;
  const search = searchWorker() ?? new URL('assets/handbook/search-worker.js', siteUrl()).href;
  const said = JSON.parse(config.textContent ?? '');
  config.textContent = JSON.stringify({ ...said, base: new URL(siteUrl()).href, search });
}
