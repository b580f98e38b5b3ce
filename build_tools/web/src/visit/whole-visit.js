/** A visit as a file has it, and as it is kept: one field by itself, so that two windows never undo each other's. */

import { answerKey } from './kept-answer.js';
import { plainLine, plainText } from './plain-text.js';

/** @typedef {import('./visit-types.js').Entry} Entry */
/** @typedef {import('./visit-types.js').Visit} Visit */
/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */

/**
 * Without what an import refuses: a record that an earlier edition wrote must come in again.
 *
 * @param {Visit} visit
 * @param {Entry[]} entries
 * @param {(name: string) => string} labelOf empty for a reading that this edition does not know
 * @returns {WholeVisit}
 */
export function wholeVisit(visit, entries, labelOf) {
  /** @type {WholeVisit} */
  const whole = {
    ...visit,
    name: plainLine(visit.name) || 'visit',
    readings: [],
    notes: [],
    answers: [],
  };
  for (const { visit: _visit, key: _key, ...entry } of entries) {
    if (entry.kind === 'reading') {
      const { kind: _kind, ...reading } = entry;
      const [value, unit] = [plainLine(reading.value), plainLine(reading.unit)];
      const label = labelOf(entry.name) || plainLine(entry.label);
      if (value) whole.readings.push({ ...reading, value, unit, label });
    } else if (entry.kind === 'note') {
      const { kind: _kind, ...note } = entry;
      whole.notes.push({ ...note, text: plainText(note.text) });
    } else {
      const { kind: _kind, ...answer } = entry;
      whole.answers.push(answer);
    }
  }
  return whole;
}

/**
 * The fields of a visit, as they are kept one by one.
 *
 * @param {WholeVisit} whole
 * @returns {{visit: Visit, entries: Entry[]}}
 */
export function fieldsOf({ readings, notes, answers, ...visit }) {
  const { id } = visit;
  return {
    visit,
    entries: [
      ...readings.map((each) => ({
        ...{ visit: id, key: `reading:${each.name}`, kind: /** @type {const} */ ('reading') },
        ...each,
      })),
      ...notes.map((each) => ({
        ...{ visit: id, key: `note:${each.name}`, kind: /** @type {const} */ ('note') },
        ...each,
      })),
      ...answers.map((each) => ({
        ...{ visit: id, key: answerKey(each), kind: /** @type {const} */ ('answer') },
        ...each,
      })),
    ],
  };
}
