/** Under the day on which a danger was known: the last day for its report, and it goes into the record. */

import { setText } from '../lib/find.js';
import { lastDay } from '../lib/last-day.js';
import { writtenDay } from '../lib/written-day.js';
import { openVisit } from '../visit/open-visit.js';

const KEPT = 'unsafe_report_by';
const LABEL = 'Unsafe: last day for the report';
const NOT_HELD = 'No period is held here. Look it up in the regulation, and count it yourself.';

/** @param {HTMLElement} place @returns {string} what it says, by what the visit holds */
function wordsFor({ dataset }) {
  const note = openVisit.entry(`note:${dataset.hbLastDay ?? ''}`);
  const known = note?.kind === 'note' ? note.text : '';
  if (!known) return '';
  const days = dataset.hbDays ?? '';
  if (!days) return NOT_HELD;
  const last = lastDay(known, days);
  return last
    ? `${writtenDay(last)}: ${days} days from ${writtenDay(known)}. Counted out, not advice: read the regulation.`
    : '';
}

export function showLastDay() {
  if (!openVisit.isRead) return;
  const place = document.querySelector('[data-hb-last-day]');
  if (!(place instanceof HTMLElement)) return;
  const words = wordsFor(place);
  place.hidden = !words;
  setText(place, words && `${LABEL.replace('Unsafe: l', 'L')}: ${words}`);
  void keep(words);
}

/** @param {string} words */
async function keep(words) {
  const { visit } = openVisit;
  const key = `note:${KEPT}`;
  const held = openVisit.entry(key);
  if (!visit || (held?.kind === 'note' ? held.text : '') === words) return;
  const at = openVisit.momentFor(key);
  const note = { kind: /** @type {const} */ ('note'), name: KEPT, label: LABEL, text: words, at };
  await openVisit
    .keep((id) => (words ? [{ visit: id, key, ...note }] : []), words ? [] : [key])
    .catch(() => {});
}
