/** What this device keeps of a paper that is being sat, until it is handed in. */

import { readLocal, writeLocal } from '../lib/local-storage.js';

const KEY = 'hb:paper';
const HANDED = 'hb:paper-handed-in';

/**
 * @typedef {object} Kept
 * @property {string} paper
 * @property {string} seed
 * @property {string} edition
 * @property {string} sitting by which it is known again; `newSitting` draws it
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

/**
 * The paper that was handed in last: who leaves the page too soon can still hand its file over.
 *
 * @returns {import('./answers-file.js').Handed | null}
 */
export function readHanded() {
  try {
    const kept = JSON.parse(readLocal(HANDED) ?? 'null');
    return kept?.name && kept.text ? kept : null;
  } catch {
    return null;
  }
}

/** @param {import('./answers-file.js').Handed | null} handed null forgets it */
export const keepHanded = (handed) => writeLocal(HANDED, handed && JSON.stringify(handed));
