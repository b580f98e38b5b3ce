/** A visit as a file has it, and as it is kept: one field by itself, so that two windows never undo each other's. */

import { answerKey } from './kept-answer.js';
import { outcomeKey } from './kept-outcome.js';
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
    outcomes: [],
    choices: [],
    checks: [],
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
    } else if (entry.kind === 'outcome') {
      const { kind: _kind, ...outcome } = entry;
      whole.outcomes.push(outcome);
    } else if (entry.kind === 'choice') {
      const { kind: _kind, ...choice } = entry;
      whole.choices.push(choice);
    } else if (entry.kind === 'check') {
      const { kind: _kind, ...check } = entry;
      whole.checks.push({ ...check, reason: plainLine(check.reason) });
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
export function fieldsOf({ readings, outcomes, choices, checks, notes, answers, ...visit }) {
  const { id } = visit;
  return {
    visit,
    entries: [
      ...readings.map((each) => ({
        ...{ visit: id, key: `reading:${each.name}`, kind: /** @type {const} */ ('reading') },
        ...each,
      })),
      ...outcomes.map((each) => ({
        ...{ visit: id, key: outcomeKey(each), kind: /** @type {const} */ ('outcome') },
        ...each,
      })),
      ...choices.map((each) => ({
        ...{ visit: id, key: `choice:${each.name}`, kind: /** @type {const} */ ('choice') },
        ...each,
      })),
      ...checks.map((each) => ({
        ...{ visit: id, key: `check:${each.name}`, kind: /** @type {const} */ ('check') },
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
