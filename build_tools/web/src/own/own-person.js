/** Whom a reader calls in an emergency, and the name and the registration that they print. */

import { own } from './own-kept.js';

export const PERSON = /** @type {const} */ (['contact', 'name', 'registration']);
const LONGEST = 200;
const NUMBER = /^\+?[0-9][0-9 ]{1,30}$/;

/** @param {string} text @returns {boolean} digits and spaces, with + before them or without */
export const isNumber = (text) => NUMBER.test(text);

/** @returns {Record<typeof PERSON[number], string>} each empty where it was not typed */
export function ownPerson() {
  const kept = own.read();
  const text = (/** @type {string} */ key) => {
    const value = kept[key];
    return typeof value === 'string' && value.length <= LONGEST ? value : '';
  };
  const contact = text('contact');
  return {
    contact: isNumber(contact) ? contact : '',
    name: text('name'),
    registration: text('registration'),
  };
}
