/** All fields of the page that is shown whose text is kept. */

import { ReadingField } from './reading-field.js';
import { WrittenField } from './written-field.js';

/** @typedef {import('./kept-field.js').KeptField} KeptField */

/** @type {KeptField[]} those that still have something to keep, of this page or of one before */
let fields = [];

const READINGS = 'li[data-hb-reading]:not([data-hb-live])';
const WRITTEN = '[data-hb-written]:not([data-hb-live])';

/** Makes a field of every reading of the page, and of every place for words. */
export function makeFields() {
  fields = fields.filter((field) => field.isThere);
  for (const place of placesLike(READINGS)) fields.push(new ReadingField(place));
  for (const place of placesLike(WRITTEN)) fields.push(new WrittenField(place));
}

/** @param {string} selector @returns {HTMLElement[]} */
function placesLike(selector) {
  const places = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(selector)]);
  for (const place of places) place.setAttribute('data-hb-live', '');
  return places;
}

export function startFields() {
  document.addEventListener('hb:visit', () => {
    for (const field of fields) field.show();
  });
  const saveAll = () => void Promise.all(fields.map((field) => field.save()));
  // What was typed last goes with the page, or with the tablet that is switched off.
  document.addEventListener('visibilitychange', () => document.hidden && saveAll());
  window.addEventListener('pageshow', ({ persisted }) => persisted && saveAll());
  // A move in place takes the fields off the page: what was typed last must not go with them.
  document.addEventListener('hb:page', () => {
    saveAll();
    makeFields();
  });
}
