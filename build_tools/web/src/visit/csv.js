/** A visit as a table that a spreadsheet opens. */

import { withoutRepeats } from './kept-outcome.js';

/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */

const HEAD = [
  'Visit',
  'Appliance',
  'What',
  'Group',
  'Name',
  'Value',
  'Unit',
  'Outcome',
  'Limit',
  'Source',
  'Edition',
  'Provenance',
  'Time',
];
const LINE = '\r\n'; // RFC 4180
const BYTE_ORDER_MARK = '\ufeff'; // by which spreadsheets know UTF-8

/** What a spreadsheet would run as a formula, unless it is a plain number. */
const FORMULA = /^[\s]*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/u;
const NUMBER = /^[+-]?\d+([.,]\d+)?$/;
/**
 * A spreadsheet of a country that writes 1,5 takes the semicolon for what parts two cells, and does
 * not heed quotes in the middle of what it takes for one: what stands behind could be a formula.
 */
const LATER_FORMULA = /([;\t\r\n|][\s"']*)(?=[=+\-@\uff1d\uff0b\uff0d\uff20])/gu;
const QUOTED = /[",;|\t\r\n']/;

/** @param {string} text */
export function csvCell(text) {
  if (NUMBER.test(text)) return text.includes(',') ? `"${text}"` : text;
  const later = text.replace(LATER_FORMULA, "$1'");
  const safe = FORMULA.test(text) ? `'${later}` : later;
  return QUOTED.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** @param {import('./visit-types.js').KeptVerdict} verdict @param {string} at */
const verdictCells = (verdict, at) => ({
  ...{ value: verdict.text, outcome: verdict.outcome.replaceAll('_', ' '), limit: verdict.limit },
  ...{ source: verdict.source, edition: verdict.edition, time: at },
  provenance: verdict.provenance.replaceAll('-', ' '),
});

/** @typedef {Record<string, string | undefined>} Row cells by the title of their column */

/** @param {import('./visit-types.js').KeptAnswer} answer @returns {Row[]} */
const answerRows = ({ title, at, edition, inputs, answers, verdicts }) => [
  ...inputs.map(({ label, text }) => ({
    ...{ what: 'Typed', group: title, name: label, value: text, time: at },
  })),
  ...answers.map(({ label, text, uncertainty }) => ({
    ...{ what: 'Answer', group: title, name: label, time: at, edition },
    value: [text, uncertainty].filter(Boolean).join(' '),
  })),
  ...verdicts.map((verdict) => ({
    ...{ what: 'Verdict', group: title, name: verdict.label },
    ...verdictCells(verdict, at),
  })),
];

/** @param {string} name as the data have it */
const spaced = (name) => name.replaceAll('_', ' ');

/**
 * @param {WholeVisit} visit
 * @param {(name: string) => string} groupOf heading of a reading
 * @param {(reading: {name: string, value: string, unit: string}) => string} [whyNot] a reading is none
 * @returns {string}
 */
export function csvOf(visit, groupOf, whyNot = () => '') {
  const names = new Map(visit.appliances.map(({ id, name }) => [id, name]));
  /** @type {<T extends {appliance: string}>(all: T[], rowsOf: (each: T) => Row[]) => Row[]} */
  const lines = (all, rowsOf) =>
    all.flatMap((each) =>
      rowsOf(each).map((row) => ({ ...row, appliance: names.get(each.appliance) })),
    );
  const rows = [
    ...lines(visit.readings, (each) => [
      {
        ...{ what: 'Reading', group: groupOf(each.name), name: each.label },
        ...{ value: each.value, unit: each.unit, time: each.at },
        outcome: whyNot(each) && 'not usable',
        ...(each.from_card ? { source: 'Appliance card', edition: each.from_card } : {}),
      },
    ]),
    ...lines(withoutRepeats(visit.outcomes), ({ reading, label, at, figures, verdicts }) => [
      ...(figures ?? []).map(({ label: name, text, uncertainty }) => ({
        ...{ what: 'Worked out', group: label, name, time: at },
        value: [text, uncertainty].filter(Boolean).join(' '),
      })),
      ...verdicts.map((verdict) => ({
        ...{ what: 'Outcome', group: groupOf(reading), name: label },
        ...verdictCells(verdict, at),
      })),
    ]),
    ...lines(visit.choices, ({ name, value, at }) => [
      { what: 'Answer of the visit', name: spaced(name), value: spaced(value), time: at },
    ]),
    ...lines(visit.checks, ({ name, state, reason, at }) => [
      { what: 'Check', name: spaced(name), value: reason, outcome: spaced(state), time: at },
    ]),
    ...lines(visit.ticks, ({ procedure, step, at }) => [
      { what: 'Ticked', group: spaced(procedure), name: spaced(step), time: at },
    ]),
    ...lines(visit.answers, answerRows),
    ...lines(visit.instruments, ({ kind, name, serial, resolution, accuracy, at, ...each }) => [
      {
        ...{ what: 'Instrument', group: spaced(kind), name, time: at },
        value: [serial, resolution, `± ${accuracy}`].filter(Boolean).join('; '),
        limit: each.calibrated_until && `calibrated until ${each.calibrated_until}`,
      },
    ]),
    ...lines(visit.notes, ({ label, text, at }) => [
      { what: 'Note', name: label, value: text, time: at },
    ]),
  ];
  const table = rows.map((row) => {
    const cells = HEAD.map((title) =>
      title === 'Visit' ? visit.name : (row[title.toLowerCase()] ?? ''),
    );
    return cells.map(csvCell).join(',');
  });
  return BYTE_ORDER_MARK + [HEAD.join(','), ...table].join(LINE) + LINE;
}
