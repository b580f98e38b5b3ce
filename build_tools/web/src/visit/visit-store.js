/** Visits on this device: each call is one transaction, so that nothing is ever half kept. */

import { FIRST, SHARED } from '../lib/appliance-key.js';
import { byTime } from '../lib/written-day.js';
import { ownerOf } from './appliances.js';
import { whileHere } from './database.js';
import { ApplianceGone, VisitGone } from './storage-error.js';

/** @typedef {import('./visit-types.js').Appliance} Appliance */
/** @typedef {import('./visit-types.js').Entry} Entry */
/** @typedef {import('./visit-types.js').Typed} Typed */
/** @typedef {import('./visit-types.js').Visit} Visit */
/** @typedef {('visits' | 'entries' | 'state')[]} Names */
/**
 * @template {'readonly' | 'readwrite'} M
 * @typedef {object} Stores
 * @property {import('idb').IDBPTransaction<import('./database-schema.js').Schema, Names, M>} all
 * @property {import('idb').IDBPObjectStore<import('./database-schema.js').Schema, Names, 'visits', M>} visits
 * @property {import('idb').IDBPObjectStore<import('./database-schema.js').Schema, Names, 'entries', M>} entries
 * @property {import('idb').IDBPObjectStore<import('./database-schema.js').Schema, Names, 'state', M>} state
 */

/**
 * @template {'readonly' | 'readwrite'} M
 * @template T
 * @param {M} mode
 * @param {(there: Stores<M>) => Promise<T>} work
 */
const inStores = (mode, work) =>
  whileHere(
    (place) => place.transaction(['visits', 'entries', 'state'], mode),
    (all) =>
      work({
        all,
        visits: all.objectStore('visits'),
        entries: all.objectStore('entries'),
        state: all.objectStore('state'),
      }),
  );

/**
 * Does all of it or nothing. Without the abort, what was asked for before a failure would stay.
 *
 * @param {(there: Stores<'readwrite'>, ask: (asked: Promise<unknown>) => void) => Promise<void> | void} work
 */
const whole = (work) =>
  inStores('readwrite', async (there) => {
    /** @type {Promise<unknown>[]} */
    const asked = [there.all.done];
    try {
      await work(there, (each) => asked.push(each));
      await Promise.all(asked);
    } catch (error) {
      try {
        there.all.abort();
      } catch {
        // It has ended by itself.
      }
      await Promise.allSettled(asked);
      throw error;
    }
  });

/** @param {Visit[]} visits @returns {Visit[]} the latest first */
const inOrder = (visits) => visits.sort((one, other) => byTime(other.begun, one.begun));

/** @returns {Promise<{visits: Visit[], entries: Entry[]}>} */
export const everything = () =>
  inStores('readonly', async (there) => {
    const [visits, entries] = await Promise.all([there.visits.getAll(), there.entries.getAll()]);
    return { visits: inOrder(visits), entries };
  });

/**
 * What a list of visits shows: it is asked for at each change, so it reads no entry.
 *
 * @returns {Promise<{visits: Visit[], keys: [visit: string, key: string][], open: string | null}>}
 */
export const overview = () =>
  inStores('readonly', async (there) => {
    const [visits, keys, open] = await Promise.all([
      there.visits.getAll(),
      there.entries.getAllKeys(),
      there.state.get('open'),
    ]);
    const isThere = visits.some(({ id }) => id === open);
    return { visits: inOrder(visits), keys, open: isThere ? (open ?? null) : null };
  });

/** @param {string} visit @returns {string} where it is kept which of its appliances is worked on */
const placeOf = (visit) => `appliance:${visit}`;

/** @param {Visit} visit @param {string} id */
const hasAppliance = ({ appliances }, id) =>
  id === SHARED || appliances.some((each) => each.id === id);

/**
 * @returns {Promise<{visit: Visit | null, appliance: string, entries: Entry[]}>} the visit that
 *   readings go into, and the appliance
 */
export const readOpenVisit = () =>
  inStores('readonly', async (there) => {
    const id = await there.state.get('open');
    const visit = id ? await there.visits.get(id) : undefined;
    if (!visit) return { visit: null, appliance: FIRST, entries: [] };
    const [chosen, entries] = await Promise.all([
      there.state.get(placeOf(visit.id)),
      there.entries.index('visit').getAll(visit.id),
    ]);
    const isThere = chosen !== undefined && hasAppliance(visit, chosen);
    return { visit, appliance: isThere ? chosen : (visit.appliances[0]?.id ?? FIRST), entries };
  });

/**
 * Changes fields in the visit that the page shows. Where it shows none, in the one that is open by
 * now, perhaps from another window, else in a new one.
 *
 * @param {string | null} shown id of a visit
 * @param {(visit: string) => Entry[]} make what is kept
 * @param {string[]} gone keys of what is taken out
 * @param {() => Visit} begun
 */
export const changeEntries = (shown, make, gone, begun) =>
  whole(async ({ visits, entries, state }, ask) => {
    const id = shown ?? (await state.get('open'));
    const there = id ? await visits.get(id) : undefined;
    if (!there && shown) throw new VisitGone();
    const visit = there ?? begun();
    if (!there) {
      ask(visits.add(visit));
      ask(state.put(visit.id, 'open'));
    }
    for (const key of gone) ask(entries.delete([visit.id, key]));
    for (const entry of make(visit.id)) {
      if (!hasAppliance(visit, ownerOf(entry))) throw new ApplianceGone();
      // A page that was frozen and comes back may be late with what it has.
      const held = await entries.get([visit.id, entry.key]);
      if (!held || held.at <= entry.at) ask(entries.put(entry));
    }
  });

/**
 * Keeps what other pages left behind, unless something later stands there. What belongs to a visit
 * that was deleted since goes with it.
 *
 * @param {Typed[]} left
 * @param {() => Visit} begun
 */
export const keepTyped = (left, begun) =>
  whole(async ({ visits, entries, state }, ask) => {
    for (const { visit: shown, key, at, entry } of left) {
      const id = shown ?? (await state.get('open'));
      let visit = id ? await visits.get(id) : undefined;
      if (!visit && (shown || !entry)) continue;
      if (!visit) {
        visit = begun();
        ask(visits.add(visit));
        ask(state.put(visit.id, 'open'));
      }
      if (!hasAppliance(visit, ownerOf({ key, ...entry }))) continue;
      const held = await entries.get([visit.id, key]);
      if (held && held.at >= at) continue;
      ask(
        entry ? entries.put({ visit: visit.id, key, ...entry }) : entries.delete([visit.id, key]),
      );
    }
  });

/** @param {Visit} visit begins it, and readings go into it from now on */
export const begin = (visit) =>
  whole(({ visits, state }, ask) => {
    ask(visits.add(visit));
    ask(state.put(visit.id, 'open'));
  });

/**
 * Changes the head of a visit that is there.
 *
 * @param {string} id
 * @param {Partial<Visit>} changes
 * @param {boolean} opens whether readings go into it from now on
 */
export const change = (id, changes, opens) =>
  whole(async ({ visits, state }, ask) => {
    const visit = await visits.get(id);
    if (!visit) throw new VisitGone();
    const wasOpen = (await state.get('open')) === id;
    ask(visits.put({ ...visit, ...changes }));
    if (opens) ask(state.put(id, 'open'));
    else if (wasOpen) ask(state.delete('open'));
  });

/** @param {string} id with all that it holds */
export const remove = (id) =>
  whole(async ({ visits, entries, state }, ask) => {
    const keys = await entries.index('visit').getAllKeys(id);
    const isOpen = (await state.get('open')) === id;
    for (const key of keys) ask(entries.delete(key));
    ask(visits.delete(id));
    ask(state.delete(placeOf(id)));
    if (isOpen) ask(state.delete('open'));
  });

/**
 * Changes the appliances of a visit. What belongs to one that is taken out goes with it.
 *
 * @param {string} id of the visit
 * @param {(appliances: Appliance[]) => {appliances: Appliance[], chosen?: string}} change from what is
 *   there by now; `chosen` is worked on from then on
 */
export const changeAppliances = (id, change) =>
  whole(async ({ visits, entries, state }, ask) => {
    const visit = await visits.get(id);
    if (!visit) throw new VisitGone();
    const { appliances, chosen } = change(visit.appliances);
    const left = new Set(appliances.map((each) => each.id));
    const gone = visit.appliances.filter((each) => !left.has(each.id)).map((each) => each.id);
    for (const entry of gone.length ? await entries.index('visit').getAll(id) : []) {
      if (gone.includes(ownerOf(entry))) ask(entries.delete([id, entry.key]));
    }
    ask(visits.put({ ...visit, appliances }));
    if (chosen && left.has(chosen)) ask(state.put(chosen, placeOf(id)));
  });

/**
 * Puts visits in that are not there: all of them, or none.
 *
 * @param {Visit[]} added
 * @param {Entry[]} held
 */
export const addWhole = (added, held) =>
  whole(({ visits, entries }, ask) => {
    for (const visit of added) ask(visits.add(visit));
    for (const entry of held) ask(entries.add(entry));
  });
