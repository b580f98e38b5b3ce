/** Visits on this device: each call is one transaction, so that nothing is ever half kept. */

import { database } from './database.js';
import { VisitGone } from './trouble.js';

/** @typedef {import('./types.js').Entry} Entry */
/** @typedef {import('./types.js').Visit} Visit */

const ALL = /** @type {const} */ (['visits', 'entries', 'state']);

/** @returns {Promise<{visits: Visit[], entries: Entry[], open: string | null}>} */
export async function everything() {
  const all = (await database()).transaction(ALL);
  const [visits, entries, open] = await Promise.all([
    all.objectStore('visits').getAll(),
    all.objectStore('entries').getAll(),
    all.objectStore('state').get('open'),
  ]);
  visits.sort((one, other) => other.begun.localeCompare(one.begun));
  return { visits, entries, open: visits.some(({ id }) => id === open) ? (open ?? null) : null };
}

/** @returns {Promise<{visit: Visit | null, entries: Entry[]}>} the visit that readings go into */
export async function openVisit() {
  const all = (await database()).transaction(ALL);
  const id = await all.objectStore('state').get('open');
  const visit = id ? await all.objectStore('visits').get(id) : undefined;
  if (!visit) return { visit: null, entries: [] };
  return { visit, entries: await all.objectStore('entries').index('visit').getAll(visit.id) };
}

/**
 * Keeps fields in the visit that the page shows. Where it shows none, in the one that is open by
 * now, perhaps from another window, else in a new one.
 *
 * @param {string | null} shown id of a visit
 * @param {(visit: string) => Entry[]} make
 * @param {() => Visit} begun
 */
export async function keepEntries(shown, make, begun) {
  const all = (await database()).transaction(ALL, 'readwrite');
  const [visits, state] = [all.objectStore('visits'), all.objectStore('state')];
  const id = shown ?? (await state.get('open'));
  const there = id ? await visits.get(id) : undefined;
  if (!there && shown) {
    await all.done;
    throw new VisitGone();
  }
  const visit = there ?? begun();
  const opening = there ? [] : [visits.add(visit), state.put(visit.id, 'open')];
  const entries = make(visit.id).map((entry) => all.objectStore('entries').put(entry));
  await Promise.all([...opening, ...entries, all.done]);
}

/**
 * @param {string} visit
 * @param {string[]} keys
 */
export async function takeOut(visit, keys) {
  const change = (await database()).transaction('entries', 'readwrite');
  await Promise.all([...keys.map((key) => change.store.delete([visit, key])), change.done]);
}

/** @param {Visit} visit begins it, and readings go into it from now on */
export async function begin(visit) {
  const all = (await database()).transaction(['visits', 'state'], 'readwrite');
  const opening = all.objectStore('state').put(visit.id, 'open');
  await Promise.all([all.objectStore('visits').add(visit), opening, all.done]);
}

/**
 * Changes the head of a visit that is there.
 *
 * @param {string} id
 * @param {Partial<Visit>} changes
 * @param {boolean} opens whether readings go into it from now on
 */
export async function change(id, changes, opens) {
  const all = (await database()).transaction(['visits', 'state'], 'readwrite');
  const [visits, state] = [all.objectStore('visits'), all.objectStore('state')];
  const visit = await visits.get(id);
  if (!visit) throw new VisitGone();
  const wasOpen = (await state.get('open')) === id;
  /** @type {Promise<unknown>[]} */
  const done = [visits.put({ ...visit, ...changes }), all.done];
  if (opens) done.push(state.put(id, 'open'));
  else if (wasOpen) done.push(state.delete('open'));
  await Promise.all(done);
}

/** @param {string} id with all that it holds */
export async function remove(id) {
  const all = (await database()).transaction(ALL, 'readwrite');
  const [entries, state] = [all.objectStore('entries'), all.objectStore('state')];
  const keys = await entries.index('visit').getAllKeys(id);
  const isOpen = (await state.get('open')) === id;
  await Promise.all([
    ...keys.map((key) => entries.delete(key)),
    all.objectStore('visits').delete(id),
    isOpen && state.delete('open'),
    all.done,
  ]);
}

/**
 * Puts visits in that are not there: all of them, or none.
 *
 * @param {Visit[]} visits
 * @param {Entry[]} held
 */
export async function addWhole(visits, held) {
  const all = (await database()).transaction(['visits', 'entries'], 'readwrite');
  await Promise.all([
    ...visits.map((visit) => all.objectStore('visits').add(visit)),
    ...held.map((entry) => all.objectStore('entries').add(entry)),
    all.done,
  ]);
}
