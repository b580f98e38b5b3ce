/** How a class did, as a lecturer reads it: what could not be counted, then the weakest first. */

import { downloadText } from '../lib/download.js';
import { thisEdition } from '../lib/edition.js';
import { siteUrl } from '../lib/site-url.js';
import { make } from '../practice/elements.js';
import { csvOfClass } from './class-csv.js';
import { problemsPart } from './show-problems.js';
import { barOf, table } from './table.js';

/** @typedef {import('./ask-class.js').Told} Told */
/** @typedef {import('./ask-class.js').Question} Question */

/** As the sheet for paper cuts the tables off: see results.css. */
const ON_PAPER = { topics: 14, questions: 26, slips: 8 };
const BESIDE =
  'Numbers are those of the paper. To have its questions beside this, print it with answers on the page of papers.';
/** Questions with unsafe choices that are named at the top. */
const MOST_NAMED = 5;

/**
 * @param {HTMLElement} place
 * @param {import('./ask-class.js').Result} result
 * @param {number} chosen how many files
 * @param {() => void} clear
 */
export function showClass(place, { told, problems, leftOut, files }, chosen, clear) {
  const title = told ? `${told.title}: ${papers(told.sat)}` : 'Nothing could be counted';
  const head = make('h3', { text: title, is: 'hb-results__head' });
  head.tabIndex = -1;
  const parts = told ? [...facts(told, leftOut), ...actsOf(told, clear)] : [];
  const count = { chosen, files };
  const wrong = problems.length > 0 ? [problemsPart(problems, count, !told)] : [];
  const tables = told ? tablesOf(told) : [];
  place.replaceChildren(head, ...parts, ...wrong, ...tables);
}

/** @param {number} sat */
const papers = (sat) => `${sat} ${sat === 1 ? 'paper' : 'papers'}`;

/** @param {Told} told @param {number} leftOut @returns {HTMLElement[]} */
function facts(told, leftOut) {
  const { sat, reached, percent, no_unsafe: noUnsafe, unsafe, few } = told;
  const pass = `${percent} %${noUnsafe ? ', with no unsafe choice' : ''}`;
  const lines = [`${reached} of ${sat} reached the pass mark: ${pass}.`, unsafeWords(told)];
  if (sat < few) lines.push(`Fewer than ${few} papers say little.`);
  if (told.questions.some(({ number }) => number > 0)) lines.push(BESIDE);
  if (leftOut > 0) {
    lines.push(`Passed over: ${leftOut} ${leftOut === 1 ? 'column' : 'columns'}, unread.`);
  }
  const paper = [`Paper ${told.paper} · edition ${thisEdition()?.name ?? ''}. Counts alone.`];
  const { topics, questions, slips } = ON_PAPER;
  const isCut =
    told.topics.length > topics || told.questions.length > questions || told.slips.length > slips;
  if (isCut) {
    const most = `${topics} topics, ${questions} questions and ${slips} slips`;
    paper.push(`On paper: at most ${most}. The table that is saved has all.`);
  }
  const isLoud = (/** @type {string} */ text) => unsafe > 0 && text.startsWith('Unsafe');
  return [
    ...lines.map((text) => make('p', { text, is: isLoud(text) ? 'hb-results__unsafe' : '' })),
    ...paper.map((text) => make('p', { text, is: 'hb-results__paper' })),
  ];
}

/** @param {Told} told */
function unsafeWords({ unsafe, questions }) {
  if (unsafe === 0) return 'Unsafe choices: none.';
  const where = questions
    .filter((each) => each.unsafe > 0)
    .sort((one, other) => other.unsafe - one.unsafe)
    .map((each) => `${each.title} (${each.unsafe})`);
  const rest = where.length - MOST_NAMED;
  const more = rest > 0 ? `; and ${rest} more` : '';
  const first = where.slice(0, MOST_NAMED).join('; ');
  return `Unsafe choices in ${papers(unsafe)}. Look at these first: ${first}${more}.`;
}

/** @param {Told} told @param {() => void} clear */
function actsOf(told, clear) {
  const acts = /** @type {const} */ ([
    ['Print', () => window.print(), ' hb-button--main'],
    ['Save as CSV', () => save(told), ''],
    ['Clear', clear, ''],
  ]).map(([text, does, is]) => {
    const button = make('button', { text, is: `hb-button${is}` });
    button.type = 'button';
    button.addEventListener('click', does);
    return button;
  });
  return [make('p', { is: 'hb-practice__acts' }, acts)];
}

/** @param {Told} told */
function save(told) {
  downloadText(`class-${told.paper}.csv`, csvOfClass(told), 'text/csv');
}

/** @param {Told} told */
function tablesOf(told) {
  const { topics, outcomes, questions, slips } = told;
  const made = [
    table('Topics, the weakest first', ['Topic', 'Right'], topics.map(topicRow), 'topics'),
    table(questionsTitle(told), HEADS, questions.map(questionRow), 'wide'),
  ];
  if (outcomes.length > 0) {
    const heads = ['Outcome', 'Right'];
    const rows = outcomes.map((each) => [
      `${each.code} ${each.says} (${each.host})`,
      ofAsked(each),
    ]);
    made.splice(1, 0, table('Outcomes, the weakest first', heads, rows, 'topics'));
  }
  if (slips.length > 0) {
    const rows = slips.map(({ say, count }) => [`They ${say}`, `${count} ×`]);
    const heads = ['Slip', 'Times'];
    made.push(table('Slips in all questions, the commonest first', heads, rows, 'slips'));
  }
  return made;
}

/** @param {Told} told */
function questionsTitle({ few, questions }) {
  const some = questions.filter(({ sat }) => sat < few).length;
  const isMixed = some > 0 && some < questions.length;
  return `Questions, the hardest first${isMixed ? `; last those that fewer than ${few} were asked` : ''}`;
}

/** @param {Told['topics'][number]} topic */
function topicRow(topic) {
  const link = make('a', { text: topic.title });
  link.href = new URL(`${topic.topic}.html`, siteUrl()).href;
  return [link, ofAsked(topic)];
}

/** @param {import('./ask-class.js').Counts} counts */
const ofAsked = ({ right, sat }) => make('span', {}, [`${right} of ${sat}`, barOf(right / sat)]);

/** On paper one of these stands for all. */
const LONG = 'hb-results__instead';
const HEADS = ['Question', 'Right', 'Wrong', 'Left out', 'Unsafe', 'What went wrong'];

/** @param {Question} question */
function questionRow(question) {
  const { number, title, right, sat, wrong, unread, unsafe, slips, instead } = question;
  const often = [
    ...slips.map(({ say, count }) => make('li', { text: `${count} × they ${say}` })),
    ...instead.map(({ say, count }) => make('li', { text: `${count} × ${say}`, is: LONG })),
    ...(unread ? [make('li', { text: `${unread} × could not be read` })] : []),
  ];
  const list = make('ul', {}, often);
  return [
    number ? `${number}. ${title}` : title,
    ofAsked({ right, sat, unsafe }),
    String(wrong),
    String(question.left_open),
    unsafe ? make('b', { text: String(unsafe) }) : '0',
    often.length > 0 ? list : '',
  ];
}
