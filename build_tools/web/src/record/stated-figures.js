/**
 * Beside a step a figure that the appliance itself states: once it is typed, in place of "look there".
 */

import { setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { wholeText } from '../visit/reading-text.js';

/** @type {WeakMap<Element, string>} what stood there before */
const before = new WeakMap();

export function showStatedFigures() {
  if (!openVisit.isRead) return;
  for (const found of document.querySelectorAll('[data-hb-stated]')) {
    const place = /** @type {HTMLElement} */ (found);
    if (!before.has(place)) before.set(place, place.textContent ?? '');
    const reading = openVisit.usable(place.dataset.hbStated ?? '');
    const words = reading ? `${wholeText(reading)} · ${whose(reading)}` : before.get(place);
    setText(place, words ?? '');
  }
}

/** @param {import('../visit/visit-types.js').Reading} reading */
function whose({ name, from_card: card }) {
  if (card) return `your card, ${card}`;
  return name.startsWith('plate.') ? 'the plate, as you typed it' : 'as you typed it';
}
