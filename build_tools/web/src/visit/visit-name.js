import { dayAndMonth, momentInWords } from '../lib/written-day.js';
import { firstAppliance } from './appliances.js';
import { plainLine } from './plain-text.js';

/** @typedef {import('./visit-types.js').Visit} Visit */

/** Longest name that a visit can have: as the field for it in templates/record.html.jinja. */
export const LONGEST_NAME = 120;

/** @param {string} typed @returns {string} what of it can be a name; empty where nothing is seen */
export const plainName = (typed) => [...plainLine(typed)].slice(0, LONGEST_NAME).join('').trim();

/**
 * "Visit of 26 November", or with a number where there are others of that name.
 *
 * @param {Date} now
 * @param {string[]} taken names of other visits
 */
export const nameFor = (now, taken) => freeName(`Visit of ${dayAndMonth(now)}`, taken);

/**
 * @param {string} name
 * @param {string[]} taken
 */
export function freeName(name, taken) {
  for (let number = 2, tried = name; ; number += 1) {
    if (!taken.includes(tried)) return tried;
    tried = `${name} (${number})`;
  }
}

/**
 * @param {string} name
 * @returns {Visit} not kept yet
 */
export function newVisit(name) {
  const begun = new Date().toISOString();
  return { id: newId(), name, begun, closed: null, appliances: firstAppliance(begun) };
}

/** @returns {string} `crypto.randomUUID` is not there on plain http */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @param {string} iso @returns {string} "26 November 2026 at 14:02", by this device's clock */
export const momentWords = (iso) => momentInWords(new Date(iso));

/** @param {string} iso @returns {boolean} whether that was on another day than this */
export const isEarlierDay = (iso) => new Date(iso).toDateString() !== new Date().toDateString();
