/** What this device keeps of a paper that is being sat, until it is handed in. */

import { readLocal, writeLocal } from '../lib/local-storage.js';

const KEY = 'hb:paper';

/**
 * @typedef {object} Kept
 * @property {string} paper
 * @property {string} seed
 * @property {string} edition
 * @property {number} place of the question that was shown last
 * @property {number} began in milliseconds
 * @property {number} minutes that it is to take; 0 where no time is kept
 * @property {Record<string, object>} given answers by the id of their question
 */

/** @returns {Kept | null} */
export function readSitting() {
  try {
    const kept = JSON.parse(readLocal(KEY) ?? 'null');
    return kept?.paper && kept.given ? kept : null;
  } catch {
    return null;
  }
}

/** @param {Kept | null} kept null forgets it */
export const keepSitting = (kept) => writeLocal(KEY, kept && JSON.stringify(kept));
