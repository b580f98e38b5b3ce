/** How a class did, as a table that a spreadsheet opens. */

import { csvCell } from '../visit/csv.js';

/** @typedef {import('./ask-class.js').Told} Told */
/** @typedef {Record<string, string | number>} Row cells by the title of their column */

const HEAD = [
  ...[
    'What',
    'Topic',
    'Number',
    'Name',
    'Asked',
    'Right',
    'Wrong',
    'Left out',
    'Not read',
    'Unsafe',
  ],
  'Times',
];
const LINE = '\r\n'; // RFC 4180
const BYTE_ORDER_MARK = '\ufeff'; // by which spreadsheets know UTF-8

/** @param {Told} told @returns {string} */
export function csvOfClass({ title, sat, reached, unsafe, questions, topics, outcomes, slips }) {
  const titles = new Map(topics.map((each) => [each.topic, each.title]));
  const counts = (/** @type {import('./ask-class.js').Counts} */ each) => ({
    ...{ Asked: each.sat, Right: each.right, Unsafe: each.unsafe },
  });
  /** @type {Row[]} */
  const rows = [
    { What: 'Papers', Name: title, Asked: sat, Unsafe: unsafe },
    { What: 'Reached the pass mark', Name: title, Times: reached },
    ...topics.map((each) => ({ What: 'Topic', Topic: each.title, ...counts(each) })),
    ...outcomes.map((each) => ({
      ...{ What: 'Outcome', Topic: each.host, Name: `${each.code} ${each.says}` },
      ...counts(each),
    })),
    ...questions.flatMap((each) => questionRows(each, titles.get(each.topic) ?? each.topic)),
    ...slips.map(({ say, count }) => ({ What: 'Slip in all', Name: say, Times: count })),
  ];
  const lines = rows.map((row) => HEAD.map((name) => csvCell(String(row[name] ?? ''))).join(','));
  return BYTE_ORDER_MARK + [HEAD.join(','), ...lines].join(LINE) + LINE;
}

/** @param {import('./ask-class.js').Question} question @param {string} topic @returns {Row[]} */
function questionRows(question, topic) {
  const { title, sat, right, wrong, left_open: open, unread, unsafe, slips, instead } = question;
  const of = { Topic: topic, Number: question.number || '', Name: title };
  return [
    {
      ...{ What: 'Question', ...of, Asked: sat, Right: right, Wrong: wrong },
      ...{ 'Left out': open, 'Not read': unread, Unsafe: unsafe },
    },
    ...slips.map(({ say, count }) => ({
      ...{ What: 'Slip', Topic: title, Name: say, Times: count },
    })),
    ...instead.map(({ say, count }) => ({
      ...{ What: 'In place of it', Topic: title, Name: say, Times: count },
    })),
  ];
}
