/**
 * What of a visit is one appliance's own, and what all of them share. The first appliance and what is
 * shared keep the keys that a visit of one appliance has; what another one has stands under its id.
 */

import { applianceIn, FIRST, plainKey, SHARED, storedKey } from '../lib/appliance-key.js';

/** @typedef {import('./visit-types.js').Appliance} Appliance */
/** @typedef {import('./visit-types.js').Entry} Entry */

/** Longest name of an appliance: as the field for it in templates/record.html.jinja. */
export const LONGEST_APPLIANCE = 60;

/** @type {Set<string> | undefined} */ let known;

/** @returns {Set<string>} what reading-facts.js has set: it comes once for all pages */
function shared() {
  const { hbReadingFacts } = /** @type {{hbReadingFacts?: {shared?: string[]}}} */ (globalThis);
  if (!hbReadingFacts) return new Set();
  known ??= new Set(hbReadingFacts.shared);
  return known;
}

/**
 * Of an answer its calculator decides, of a tick its procedure, of all else its name.
 *
 * @param {string} key as a visit of one appliance has it
 */
export function isShared(key) {
  const [kind = '', ...rest] = key.split(':');
  if (kind === 'instrument') return true; // it goes from appliance to appliance
  const name = kind === 'answer' ? (rest.at(-1) ?? '') : rest.join(':');
  return shared().has(`${kind}:${kind === 'tick' ? name.split('.')[0] : name}`);
}

/** @param {{key: string, appliance?: string | undefined}} entry @returns {string} whose it is */
export const ownerOf = ({ key, appliance }) =>
  appliance ?? applianceIn(key) ?? ownerFor(key, FIRST);

/** @param {string} key @param {string} appliance @returns {string} whose it is when it is kept now */
export const ownerFor = (key, appliance) => (isShared(key) ? SHARED : appliance);

/**
 * @template {{key: string}} T
 * @param {T} entry with the key of a visit of one appliance
 * @param {string} appliance that is worked on
 * @returns {T & {appliance: string}}
 */
export function placed(entry, appliance) {
  const owner = ownerFor(entry.key, appliance);
  return { ...entry, key: storedKey(entry.key, owner), appliance: owner };
}

/** @param {string} begun @returns {Appliance[]} those of a visit that just begins */
export const firstAppliance = (begun) => [{ id: FIRST, name: 'Appliance 1', at: begun }];

/** @param {Appliance[]} appliances @returns {string} that none of them has */
export const nextId = (appliances) =>
  String(Math.max(0, ...appliances.map(({ id }) => Number(id))) + 1);

/** What one appliance has of a visit, with what all share. */
export class ApplianceEntries {
  /** @type {Map<string, Entry>} by the key of a visit of one appliance */ #all = new Map();

  /** @param {Iterable<Entry>} all of the visit @param {string} appliance */
  constructor(all, appliance) {
    this.appliance = appliance;
    for (const entry of all) {
      const owner = ownerOf(entry);
      const key = plainKey(entry.key);
      if (owner === appliance || (owner === SHARED && !this.#all.has(key))) {
        this.#all.set(key, entry);
      }
    }
  }

  /** @returns {Entry[]} */
  get entries() {
    return [...this.#all.values()];
  }

  /** @param {string} key */
  entry(key) {
    return this.#all.get(key);
  }

  /** @param {string} name @returns {(Entry & {kind: 'reading'}) | undefined} */
  reading(name) {
    const entry = this.#all.get(`reading:${name}`);
    return entry?.kind === 'reading' ? entry : undefined;
  }
}
