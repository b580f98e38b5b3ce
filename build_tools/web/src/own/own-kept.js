/** All that a reader keeps on this device for every visit: one text under one key. */

import { readLocal, writeLocal } from '../lib/local-storage.js';

const KEY = 'hb:own';
/** Also the scripts of the page hear it, which have read it each by itself. */
const CHANGED = 'hb:own';

/** @typedef {Record<string, unknown>} Kept each part by its name; whoever reads one checks it */

/** @returns {Kept} */
function read() {
  try {
    const kept = JSON.parse(readLocal(KEY) ?? '{}');
    return kept !== null && typeof kept === 'object' && !Array.isArray(kept) ? kept : {};
  } catch {
    return {};
  }
}

/** @param {unknown} part */
const isEmpty = (part) => !part || (Array.isArray(part) && part.length === 0);

/**
 * Read anew before each change: another window may have changed another part, and a newer edition
 * may keep a part that this one does not know.
 *
 * @param {Kept} parts
 * @returns {boolean} whether they are kept
 */
function change(parts) {
  const held = Object.entries({ ...read(), ...parts }).filter(([, part]) => !isEmpty(part));
  return write(held.length ? JSON.stringify(Object.fromEntries(held)) : null);
}

/** @param {string | null} text @returns {boolean} whether it is kept */
function write(text) {
  const isKept = writeLocal(KEY, text);
  // What could not be kept stays in its field.
  if (isKept) document.dispatchEvent(new CustomEvent(CHANGED));
  return isKept;
}

export const own = {
  read,
  change,
  forget: () => write(null),
  /** @param {() => void} act when this page or another window has changed it */
  onChange(act) {
    document.addEventListener(CHANGED, act);
    addEventListener('storage', ({ key }) => {
      if (key === KEY || key === null) act();
    });
  },
};
