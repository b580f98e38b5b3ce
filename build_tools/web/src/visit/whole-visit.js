/** A visit as a file has it, and as it is kept: one field by itself, so that two windows never undo each other's. */

import { SHARED, storedKey } from '../lib/appliance-key.js';
import { ownerOf } from './appliances.js';
import { answerKey } from './kept-answer.js';
import { withoutOldFit } from './kept-fit.js';
import { instrumentEntry, instrumentKey, instrumentOf } from './kept-instrument.js';
import { outcomeKey } from './kept-outcome.js';
import { plainLine, plainText } from './plain-text.js';

/** @typedef {import('./visit-types.js').Entry} Entry */
/** @typedef {import('./visit-types.js').Visit} Visit */
/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */
/** @typedef {{kind: Entry['kind'], keyOf: (each: any) => string}} Part */

/**
 * The lists of a visit in a file: what kind of field each holds, and the key that one is kept under.
 *
 * @type {Record<'readings' | 'outcomes' | 'choices' | 'checks' | 'ticks' | 'notes' | 'answers' |
 *   'instruments', Part>}
 */
export const PARTS = {
  readings: { kind: 'reading', keyOf: ({ name }) => `reading:${name}` },
  outcomes: { kind: 'outcome', keyOf: outcomeKey },
  choices: { kind: 'choice', keyOf: ({ name }) => `choice:${name}` },
  checks: { kind: 'check', keyOf: ({ name }) => `check:${name}` },
  ticks: { kind: 'tick', keyOf: ({ procedure, step }) => `tick:${procedure}.${step}` },
  notes: { kind: 'note', keyOf: ({ name }) => `note:${name}` },
  answers: { kind: 'answer', keyOf: answerKey },
  instruments: { kind: 'instrument', keyOf: instrumentKey },
};

/** @typedef {keyof typeof PARTS} PartName */
const NAMES = /** @type {PartName[]} */ (Object.keys(PARTS));
const PART_OF = new Map(NAMES.map((name) => [PARTS[name].kind, name]));

/**
 * Without what an import refuses: a record that an earlier edition wrote must come in again.
 *
 * @param {Visit} visit
 * @param {Entry[]} entries
 * @param {(name: string) => string} labelOf empty for a reading that this edition does not know
 * @returns {WholeVisit}
 */
export function wholeVisit(visit, entries, labelOf) {
  /** @type {Record<PartName, any[]>} */
  const lists = {
    readings: [],
    outcomes: [],
    choices: [],
    checks: [],
    ticks: [],
    notes: [],
    answers: [],
    instruments: [],
  };
  for (const entry of withoutOldFit(entries)) {
    const part = PART_OF.get(entry.kind);
    const plain = readable(entry, labelOf);
    if (part && plain) lists[part].push(plain);
  }
  const name = plainLine(visit.name) || 'visit';
  return { ...visit, name, appliances: appliancesOf(visit, entries), ...lists };
}

/**
 * @param {Entry} entry
 * @param {(name: string) => string} labelOf
 * @returns {object | null} nothing of a reading in which nothing can be seen
 */
function readable(entry, labelOf) {
  const { visit: _visit, key: _key, kind: _kind, ...each } = entry;
  const held = { ...each, appliance: ownerOf(entry) };
  if (entry.kind === 'answer') return { ...held, basis: undefined };
  if (entry.kind === 'outcome') return { ...held, figures: entry.figures ?? [] };
  if (entry.kind === 'instrument') {
    return {
      ...instrumentOf(entry),
      name: plainLine(entry.name),
      serial: plainLine(entry.serial),
      appliance: SHARED,
    };
  }
  if (entry.kind === 'note') return { ...held, text: plainText(entry.text) };
  if (entry.kind === 'check') return { ...held, reason: plainLine(entry.reason) };
  if (entry.kind !== 'reading') return held;
  const [value, unit] = [plainLine(entry.value), plainLine(entry.unit)];
  const label = labelOf(entry.name) || plainLine(entry.label);
  return value ? { ...held, value, unit, label } : null;
}

/** @param {Visit} visit @param {Entry[]} entries one that was taken out elsewhere may have left some */
function appliancesOf({ appliances, begun }, entries) {
  const there = new Set(appliances.map(({ id }) => id));
  const left = new Set(entries.map(ownerOf).filter((id) => id !== SHARED && !there.has(id)));
  return [
    ...appliances.map((each) => ({
      ...each,
      name: plainLine(each.name) || `Appliance ${each.id}`,
    })),
    ...[...left].map((id) => ({ id, name: `Appliance ${id}`, at: begun })),
  ];
}

/**
 * The fields of a visit, as they are kept one by one.
 *
 * @param {WholeVisit} whole
 * @returns {{visit: Visit, entries: Entry[]}}
 */
export function fieldsOf(whole) {
  const { readings, outcomes, choices, checks, ticks, notes, answers, instruments, ...visit } =
    whole;
  const lists = { readings, outcomes, choices, checks, ticks, notes, answers, instruments };
  const entries = NAMES.flatMap((name) => {
    const { kind, keyOf } = PARTS[name];
    return lists[name].map((each) => ({
      ...{ visit: visit.id, key: storedKey(keyOf(each), each.appliance), kind },
      ...(name === 'instruments' ? instrumentEntry(each) : each),
    }));
  });
  return { visit, entries: /** @type {Entry[]} */ (entries) };
}
