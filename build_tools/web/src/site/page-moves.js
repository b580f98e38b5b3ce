import { readPage, returnTo, showPage } from './page-swap.js';

/**
 * Moves between pages without a reload, so that the calculators' worker goes on. Any doubt (a
 * file from a folder, another edition, no answer) and the browser does it in the ordinary way.
 */
export function startPageMoves() {
  if (!location.protocol.startsWith('http')) return;
  history.scrollRestoration = 'manual';
  for (const link of document.querySelectorAll('a[href], link[rel="icon"]')) fixAddress(link);
  let shown = location.pathname;
  let latest = 0;

  document.addEventListener('click', (event) => {
    const url = followed(event);
    if (!url) return;
    rememberPlace();
    if (url.pathname === location.pathname) return;
    event.preventDefault();
    void go(url, () => history.pushState(null, '', url));
  });
  window.addEventListener('popstate', () => {
    if (location.pathname === shown) {
      // Back before the page that was asked for had come: it must not come any more.
      latest += 1;
      returnTo(location.hash);
    } else void go(new URL(location.href), () => {});
  });
  window.addEventListener('pagehide', () => (history.scrollRestoration = 'auto'));
  window.addEventListener('pageshow', () => (history.scrollRestoration = 'manual'));

  /**
   * @param {URL} url
   * @param {() => void} enter puts the address in place, once the page is there
   */
  async function go(url, enter) {
    latest += 1;
    const turn = latest;
    const page = await readPage(url);
    if (turn !== latest) return;
    if (!page) {
      location.assign(url);
      return;
    }
    enter();
    shown = url.pathname;
    showPage(page, url);
  }
}

/**
 * A link that stays while pages change must not depend on the page it was written for.
 *
 * @param {Element} link
 */
function fixAddress(link) {
  const holds = link instanceof HTMLAnchorElement || link instanceof HTMLLinkElement;
  if (!holds || link.closest('main, nav')) return;
  if (!link.getAttribute('href')?.startsWith('#')) link.href = link.href.valueOf();
}

/**
 * The place that a click asks for, if it is on a page of this site and nothing else is meant.
 *
 * @param {MouseEvent} event
 * @returns {URL | null}
 */
function followed(event) {
  if (event.defaultPrevented || event.button !== 0) return null;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return null;
  const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
  if (!(link instanceof HTMLAnchorElement)) return null;
  if (link.target || link.hasAttribute('download')) return null;
  const url = new URL(link.href);
  return url.origin === location.origin && /(\.html|\/)$/.test(url.pathname) ? url : null;
}

/** So that Back returns to the place where the reader was. */
function rememberPlace() {
  history.replaceState({ top: scrollY }, '');
}
