/** All reading fields of the page that is shown. */

import { ReadingField } from './reading-field.js';

/** @type {ReadingField[]} those that still have something to keep, of this page or of one before */
let fields = [];

const LINES = 'li[data-hb-reading]:not([data-hb-live])';

/** Makes a field of every reading of the page. */
export function makeFields() {
  fields = fields.filter((field) => field.isThere);
  for (const line of document.querySelectorAll(LINES)) {
    line.setAttribute('data-hb-live', '');
    fields.push(new ReadingField(/** @type {HTMLElement} */ (line)));
  }
}

export function startFields() {
  document.addEventListener('hb:visit', () => {
    for (const field of fields) field.show();
  });
  const saveAll = () => void Promise.all(fields.map((field) => field.save()));
  document.addEventListener('visibilitychange', () => document.hidden && saveAll());
  window.addEventListener('pageshow', ({ persisted }) => persisted && saveAll());
  // A move in place takes the fields off the page: what was typed last must not go with them.
  document.addEventListener('hb:page', () => {
    saveAll();
    makeFields();
  });
}
