/** The list of what to write down, at the end of a procedure, with what is kept of it. */

import { setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { whyNot } from '../visit/reading-check.js';
import { wholeText } from '../visit/reading-text.js';

export function showReadingsList() {
  for (const found of document.querySelectorAll('tr[data-hb-kept]')) {
    const line = /** @type {HTMLElement} */ (found);
    const blank = line.querySelector('.hb-blank');
    const reading = openVisit.reading(line.dataset.hbKept ?? '');
    const shown = line.querySelector('[data-hb-kept-value]') ?? placeAfter(blank);
    const note = reading && whyNot(reading) ? ' (not usable)' : '';
    setText(shown, reading ? wholeText(reading) + note : '');
    blank?.toggleAttribute('hidden', Boolean(reading));
  }
}

/** @param {Element | null} blank @returns {Element} where what is kept is written */
function placeAfter(blank) {
  const place = document.createElement('b');
  place.setAttribute('data-hb-kept-value', '');
  blank?.after(place);
  return place;
}
