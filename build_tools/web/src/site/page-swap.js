import { bringSheets, dropSheets } from './kind-sheets.js';

/** The parts of a page that change when the reader moves to another. */
const PARTS = ['hb-main', 'hb-nav', 'hb-toc'];
const EDITION = 'meta[name="hb-edition"]';

/**
 * Fetches another page of this edition.
 *
 * @param {URL} url
 * @returns {Promise<Document | null>} null when the browser had better load it itself
 */
export async function readPage(url) {
  try {
    const response = await fetch(url);
    if (!response.ok || response.redirected) return null;
    const page = new DOMParser().parseFromString(await response.text(), 'text/html');
    const whole = PARTS.every((id) => page.getElementById(id));
    const fits = whole && sameEdition(page) && asked(page) === asked(document);
    return fits && (await bringSheets(page, url)) ? page : null;
  } catch {
    return null;
  }
}

/** @param {Document} page an old page and a new formula must never stand together */
function sameEdition(page) {
  const edition = (/** @type {Document} */ each) =>
    each.querySelector(EDITION)?.getAttribute('content');
  return edition(page) === edition(document);
}

/** A page in Markdown has a sheet of the theme more; a host may add scripts. */
const ASKED =
  'link[rel="stylesheet"]:not([data-hb-kind-sheet]), script[defer]:not([data-hb-kind-script])';

/** @param {Document} page @returns {string} what a move can't bring along */
const asked = (page) =>
  [...page.querySelectorAll(ASKED)]
    .map((each) => each.getAttribute('href') ?? each.getAttribute('src'))
    .map((address) => address?.replace(/^(\.\.?\/)+/, ''))
    .join();

/**
 * @param {Document} page
 * @param {URL} url
 */
export function showPage(page, url) {
  // A parser without scripts takes what is in <noscript> for part of the page.
  for (const node of page.querySelectorAll('noscript')) node.remove();
  for (const id of PARTS) {
    const next = page.getElementById(id);
    if (next) document.getElementById(id)?.replaceWith(document.adoptNode(next));
  }
  dropSheets(page);
  document.title = page.title;
  const description = page.querySelector('meta[name="description"]')?.getAttribute('content');
  document.querySelector('meta[name="description"]')?.setAttribute('content', description ?? '');
  document.dispatchEvent(new CustomEvent('hb:page'));
  arrive(url);
}

/** @param {URL} url where on the page the reader meant to be */
function arrive(url) {
  const heading = document.querySelector('main h1');
  if (heading instanceof HTMLElement) {
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }
  const kept = returnTo(url.hash);
  // A history entry that was pushed does not move :target; going to its fragment does.
  if (!kept && url.hash) location.replace(url.hash);
}

/**
 * Scrolls to where the reader was, else to the part that is named, else to the top.
 *
 * @param {string} hash
 * @returns {boolean} whether the place was remembered
 */
export function returnTo(hash) {
  const top = /** @type {{top?: number} | null} */ (history.state)?.top;
  const target = hash ? document.getElementById(nameIn(hash)) : null;
  if (typeof top !== 'number' && target) target.scrollIntoView({ behavior: 'instant' });
  else scrollTo({ top: top ?? 0, behavior: 'instant' });
  return typeof top === 'number';
}

/** @param {string} hash as an address has it, which may be anything @returns {string} */
function nameIn(hash) {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return hash.slice(1);
  }
}
