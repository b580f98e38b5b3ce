/**
 * What this tab keeps through a reload. A browser may refuse storage (private window, full
 * disk, a page opened from a folder): then nothing is kept, and the page works all the same.
 *
 * @param {string} key
 * @returns {unknown} what was kept, or null
 */
export function readSession(key) {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? 'null');
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {unknown} value null forgets it
 */
export function writeSession(key, value) {
  try {
    if (value === null) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Refused: see above.
  }
}

/**
 * The key of one element on one page.
 *
 * @param {string} what
 * @param {Element} element
 */
export const sessionKey = (what, element) => `hb:${what}:${location.pathname}#${element.id}`;
