/** Visits as a file: visit_record.schema.json says its form. */

import { thisEdition } from '../site/edition.js';
import { answerKey } from './kept-answer.js';
import { everything } from './visit-store.js';
import { labelIn, linesOf } from './visit-view.js';

/** @typedef {import('./types.js').Entry} Entry */
/** @typedef {import('./types.js').Visit} Visit */
/** @typedef {import('./types.js').VisitFile} VisitFile */
/** @typedef {import('./types.js').WholeVisit} WholeVisit */

export const FORMAT = 'gas-commissioning-visits';
export const VERSION = 1;

/**
 * @param {string[] | null} ids nothing for every visit
 * @param {ParentNode} root the page, which knows this edition's label of each reading
 * @returns {Promise<VisitFile>}
 */
export async function fileOf(ids, root) {
  const { visits, entries } = await everything();
  const lines = linesOf(root);
  const label = (/** @type {string} */ name) => labelIn(lines.get(name));
  const order = [...lines.keys()];
  const place = (/** @type {Entry} */ each) => (each.kind === 'reading' ? order.indexOf(each.name) : 0);
  entries.sort((one, other) => place(one) - place(other));
  return {
    format: FORMAT,
    version: VERSION,
    edition: thisEdition()?.name ?? '',
    written: new Date().toISOString(),
    visits: visits
      .filter(({ id }) => !ids || ids.includes(id))
      .map((visit) => wholeVisit(visit, entries.filter((each) => each.visit === visit.id), label)),
  };
}

/**
 * @param {Visit} visit
 * @param {Entry[]} entries
 * @param {(name: string) => string} labelOf empty for a reading that this edition does not know
 * @returns {WholeVisit}
 */
export function wholeVisit(visit, entries, labelOf) {
  /** @type {WholeVisit} */
  const whole = { ...visit, readings: [], notes: [], answers: [] };
  for (const { visit: _visit, key: _key, ...entry } of entries) {
    if (entry.kind === 'reading') {
      const { kind: _kind, ...reading } = entry;
      whole.readings.push({ ...reading, label: labelOf(entry.name) || entry.label });
    } else if (entry.kind === 'note') {
      const { kind: _kind, ...note } = entry;
      whole.notes.push(note);
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

/**
 * @param {string} name of the visit
 * @param {string} ending
 */
export function fileName(name, ending) {
  const plain = name.normalize('NFKD').replace(/[^A-Za-z0-9]+/g, '_').replace(/^_+|_+$/g, '');
  return `${(plain || 'visit').toLowerCase().slice(0, 60)}.${ending}`;
}
