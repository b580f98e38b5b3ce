/**
 * What this device keeps from visit to visit. A browser may refuse (private window, full disk,
 * a page opened from a folder): then nothing is kept, and the page works all the same.
 *
 * @param {string} key
 * @returns {string | null}
 */
export function readLocal(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {string | null} value null forgets it
 * @returns {boolean} whether it is kept
 */
export function writeLocal(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
    return true;
  } catch {
    return false; // refused, or full: see above
  }
}
