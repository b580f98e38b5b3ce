/** A visit as a table that a spreadsheet opens. */

/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */

const HEAD = [
  'Visit',
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

/**
 * @param {WholeVisit} visit
 * @param {(name: string) => string} groupOf heading of a reading
 * @param {(reading: {name: string, value: string, unit: string}) => string} [whyNot] a reading is none
 * @returns {string}
 */
export function csvOf(visit, groupOf, whyNot = () => '') {
  const rows = [
    ...visit.readings.map((each) => ({
      ...{ what: 'Reading', group: groupOf(each.name), name: each.label },
      ...{ value: each.value, unit: each.unit, time: each.at },
      outcome: whyNot(each) && 'not usable',
    })),
    ...visit.outcomes.flatMap((each) =>
      each.verdicts.map((verdict) => ({
        ...{ what: 'Outcome', group: groupOf(each.reading), name: each.label },
        ...verdictCells(verdict, each.at),
      })),
    ),
    ...visit.choices.map((each) => ({
      ...{ what: 'Answer of the visit', name: each.name.replaceAll('_', ' '), time: each.at },
      value: each.value.replaceAll('_', ' '),
    })),
    ...visit.checks.map((each) => ({
      ...{ what: 'Check', name: each.name.replaceAll('_', ' '), value: each.reason },
      ...{ outcome: each.state.replaceAll('_', ' '), time: each.at },
    })),
    ...visit.answers.flatMap((each) => [
      ...each.inputs.map((input) => ({
        ...{
          what: 'Typed',
          group: each.title,
          name: input.label,
          value: input.text,
          time: each.at,
        },
      })),
      ...each.answers.map(({ label, text, uncertainty }) => ({
        ...{ what: 'Answer', group: each.title, name: label, time: each.at, edition: each.edition },
        value: [text, uncertainty].filter(Boolean).join(' '),
      })),
      ...each.verdicts.map((verdict) => ({
        ...{ what: 'Verdict', group: each.title, name: verdict.label },
        ...verdictCells(verdict, each.at),
      })),
    ]),
    ...visit.notes.map((each) => ({
      ...{ what: 'Note', name: each.label, value: each.text, time: each.at },
    })),
  ];
  const lines = rows.map((row) => {
    const cells = HEAD.map((title) => {
      if (title === 'Visit') return visit.name;
      return /** @type {Record<string, string | undefined>} */ (row)[title.toLowerCase()] ?? '';
    });
    return cells.map(csvCell).join(',');
  });
  return BYTE_ORDER_MARK + [HEAD.join(','), ...lines].join(LINE) + LINE;
}
