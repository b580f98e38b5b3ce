/** The instruments that a reader owns, kept on this device for every visit. */

import { own } from './own-kept.js';

/**
 * `resolution` and `accuracy` with their units, empty where they are as usual for the kind; days as
 * "2026-11-28", empty where none was typed.
 *
 * @typedef {object} OwnInstrument
 * @property {string} id
 * @property {string} kind its name in data/instruments.yaml
 * @property {string} name
 * @property {string} serial
 * @property {string} resolution
 * @property {string} accuracy
 * @property {string} calibrated_on
 * @property {string} calibrated_until
 * @property {boolean} in_use readings are taken with it
 * @property {string} at
 */

/** What of it is typed. */
export const TYPED = /** @type {const} */ ([
  ...['name', 'serial', 'resolution', 'accuracy', 'calibrated_on', 'calibrated_until'],
]);
const TEXTS = ['id', 'kind', ...TYPED, 'at'];
const KIND = /^[a-z][a-z0-9_]*$/;
const LONGEST = 200;
export const MOST = 40;

/** @param {any} each @returns {each is OwnInstrument} */
const isInstrument = (each) =>
  each !== null &&
  typeof each === 'object' &&
  TEXTS.every((key) => typeof each[key] === 'string' && each[key].length <= LONGEST) &&
  KIND.test(each.kind) &&
  typeof each.in_use === 'boolean';

/** @param {unknown} value @returns {OwnInstrument[]} the rest is left out */
export const instrumentsIn = (value) =>
  Array.isArray(value) ? value.filter(isInstrument).slice(0, MOST) : [];

/** @returns {OwnInstrument[]} */
export const ownInstruments = () => instrumentsIn(own.read().instruments);

/** @param {OwnInstrument[]} instruments @returns {boolean} whether they are kept */
export const keepOwnInstruments = (instruments) => own.change({ instruments });

/** @returns {{instruments?: OwnInstrument[]}} those that readings are taken with */
export function withOwnInstruments() {
  const instruments = ownInstruments().filter((each) => each.in_use);
  return instruments.length ? { instruments } : {};
}
