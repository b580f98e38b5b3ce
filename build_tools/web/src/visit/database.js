import { openDB } from 'idb';

import { withAppliances, withProvenance } from './older-record.js';
import { KeptApart, NoStorage, PageLeft } from './storage-error.js';

/** @typedef {import('idb').IDBPDatabase<import('./database-schema.js').Schema>} Database */

const NAME = 'hb-visits';
const VERSION = 4;
const PATIENCE_MS = 5000; // a browser that refuses may also never reply

/** @type {Promise<Database> | null} */
let opening = null;

/**
 * The place where visits are kept. Opened again where an earlier try failed.
 *
 * @returns {Promise<Database>}
 */
export function database() {
  opening ??= open().catch((error) => {
    opening = null;
    throw error;
  });
  return opening;
}

/** @type {Set<{abort(): void}>} */
const running = new Set();
let isLeft = false;

/**
 * A page that WebKit freezes, so that Back finds it again, takes its transaction along, and the next
 * page waits for it for ever. So nothing is begun or under way when the page goes: what it was to
 * keep, the next page keeps (see pending.js), or this one when it comes back.
 *
 * @template T
 * @template {{abort(): void, done: Promise<void>}} X
 * @param {(database: Database) => X} begin
 * @param {(transaction: X) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function whileHere(begin, work) {
  const place = await database();
  if (isLeft) throw new PageLeft();
  const transaction = begin(place);
  running.add(transaction);
  const end = () => void running.delete(transaction);
  transaction.done.then(end, end);
  try {
    return await work(transaction);
  } catch (error) {
    throw isLeft ? new PageLeft() : error;
  }
}

addEventListener('pageshow', () => (isLeft = false));
addEventListener('pagehide', ({ persisted }) => {
  isLeft = true;
  // One that is not frozen ends by itself, whole.
  for (const transaction of persisted ? running : []) {
    try {
      transaction.abort();
    } catch {
      // It has ended by itself.
    }
  }
});

/**
 * Firefox takes each file of a folder for a site of its own (its `security.fileuri.strict_origin_policy`),
 * and a page can't see by itself that the next one reads nothing of it. The record's own page can
 * keep what is typed on it.
 */
function isApart() {
  const isFirefox = CSS.supports('-moz-appearance', 'none');
  return isFirefox && location.protocol === 'file:' && !document.querySelector('[data-hb-record]');
}

/** What was kept may be gone. */
const tellLost = () => document.dispatchEvent(new CustomEvent('hb:record-lost'));

/** @returns {Promise<Database>} */
async function open() {
  if (isApart()) throw new KeptApart();
  if (typeof indexedDB === 'undefined') throw new NoStorage('This browser has no IndexedDB.');
  const opened = openDB(NAME, VERSION, {
    async upgrade(database, before, _now, transaction) {
      if (before < 4) database.createObjectStore('cards', { keyPath: 'id' });
      if (before < 1) {
        database.createObjectStore('visits', { keyPath: 'id' });
        const entries = database.createObjectStore('entries', { keyPath: ['visit', 'key'] });
        entries.createIndex('visit', 'visit');
        database.createObjectStore('state');
        return;
      }
      const [visits, entries] = [
        transaction.objectStore('visits'),
        transaction.objectStore('entries'),
      ];
      for (const visit of await visits.getAll()) {
        withAppliances(visit);
        await visits.put(visit);
      }
      for (const entry of before < 2 ? await entries.getAll() : []) {
        if (entry.kind !== 'answer') continue;
        withProvenance(entry);
        await entries.put(entry);
      }
    },
    // A newer edition in another window needs the place to itself for a moment. Where that window,
    // or the browser, deletes it, there is no new version.
    blocking: (_old, next, event) => {
      /** @type {IDBDatabase} */ (event.target).close();
      opening = null;
      if (next === null) tellLost();
    },
    terminated: () => {
      opening = null;
      tellLost();
    },
  });
  const silence = new Promise((_, reject) => {
    setTimeout(() => reject(new NoStorage('The browser does not reply.')), PATIENCE_MS);
  });
  return /** @type {Promise<Database>} */ (Promise.race([opened, silence]));
}
