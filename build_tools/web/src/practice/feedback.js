/** What is said to an answer, in this order: the slip, the lines side by side, one why, the page. */

import { siteUrl } from '../lib/site-url.js';
import { make } from './elements.js';

/** @typedef {import('./question-field.js').Question} Question */
/** @typedef {import('./question-field.js').Line} Line */

/**
 * @typedef {object} Told as the engine says it
 * @property {boolean} right
 * @property {string} [refused]
 * @property {string | string[]} said
 * @property {string | string[]} answer
 * @property {string} [because]
 * @property {{text: string, why: string}[]} [because_not]
 * @property {string[]} [missed]
 * @property {{first: string, then: string, why: string}[]} [broken]
 * @property {{name: string, say: string}[]} slips
 * @property {boolean} [unsafe]
 * @property {Line[]} working
 * @property {string} [sum] in figures, where there is no working
 * @property {import('./drawing.js').Drawing} [drawing] with what has to be seen on it
 * @property {Line[] | null} [yours]
 * @property {string} why
 * @property {{page: string, title: string}[]} read
 */

/**
 * @param {HTMLElement} box
 * @param {Told} told
 * @param {Question} question
 * @param {(name: 'right' | 'wrong') => Node} shape
 */
export function showVerdict(box, told, question, shape) {
  const state = told.right ? 'right' : 'wrong';
  box.dataset.state = state;
  const line = make('p', { is: 'hb-practice__verdict' }, [
    shape(state),
    make('b', { text: words(told) }),
  ]);
  const after = told.right ? '' : answerInShort(told, question);
  if (after) line.append(make('span', { text: `· ${after}` }));
  box.replaceChildren(line);
  const slip = slipWords(told.slips ?? []);
  if (slip) box.append(make('p', {}, ['→ ', make('b', { text: slip })]));
  if (told.unsafe)
    box.append(make('p', { text: 'Done on an appliance, this could hurt someone.' }));
}

/** @param {Told} told */
function words({ right, said, broken }) {
  if (right) return 'Right';
  if (broken)
    return broken.length === 1
      ? 'One pair is the wrong way round'
      : `${broken.length} pairs are the wrong way round`;
  return typeof said === 'string' ? `Not ${lower(said)}` : 'Not so';
}

/** @param {string} text "It meets the limit" reads on in a sentence */
const lower = (text) => (text.startsWith('It ') ? `“${text}”` : text);

/** @param {Told} told @param {Question} question */
function answerInShort({ answer }, question) {
  if (typeof answer !== 'string') return '';
  return question.asks === 'verdict' ? answer : `it is ${answer}`;
}

/** @param {{say: string}[]} slips two that lead to one number can't be told apart */
export function slipWords(slips) {
  const said = slips.map(({ say }) => `you ${say}`);
  if (said.length === 0) return '';
  if (said.length === 1) return `${said[0]?.replace('you', 'You')}.`;
  return `Either ${said.join(', or ')}.`;
}

/** @param {HTMLElement} place @param {Told} told @param {Question} question */
export function showReasons(place, told, question) {
  place.replaceChildren();
  if (told.working.length > 0) place.append(told.right ? lines(told.working) : compared(told));
  if (told.sum) place.append(make('p', {}, [make('b', { text: 'Sum ' }), told.sum]));
  for (const pair of told.broken ?? []) {
    place.append(
      make('p', {}, [
        make('b', { text: 'First: ' }),
        `${pair.first} `,
        make('b', { text: 'Then: ' }),
        pair.then,
      ]),
      make('p', { text: pair.why }),
    );
  }
  for (const { text, why } of told.because_not ?? []) {
    place.append(make('p', {}, [make('b', { text: `${text} ` }), why]));
  }
  // How it was judged is the working of a verdict: the reason comes after it.
  const isJudged = question.asks === 'verdict';
  if (isJudged && told.because) place.append(make('p', { text: told.because }));
  const because = isJudged ? told.why : told.because || told.why;
  if (because) place.append(make('p', {}, [make('b', { text: 'Why ' }), because]));
  place.append(make('p', {}, links(told.read ?? question.read)));
}

/** @param {{page: string, title: string}[]} read */
function links(read) {
  return read.flatMap(({ page, title }, number) => {
    const link = make('a', { text: title });
    link.href = new URL(page, siteUrl()).href;
    return number > 0 ? [' · ', link] : ['Read: ', link];
  });
}

/** @param {Line[]} working @param {{lastBlank?: boolean}} [how] */
export function lines(working, { lastBlank = false } = {}) {
  const list = make('dl', { is: 'hb-practice__lines' });
  working.forEach((line, number) => {
    const isBlank = lastBlank && number === working.length - 1;
    const result = isBlank ? '…' : line.result;
    list.append(
      make('div', {}, [
        make('dt', { text: `${line.label} = ${line.symbols}` }),
        make('dd', {}, isBlank ? [result] : [`${line.numbers} = `, make('b', { text: result })]),
      ]),
    );
  });
  return list;
}

/** @param {Told} told each line of the right working with the line that the slip makes of it */
function compared({ working, yours, said }) {
  const table = make('table', { is: 'hb-practice__compared' });
  const head = make(
    'tr',
    {},
    ['line', 'yours', 'right'].map((text) => make('th', { text })),
  );
  for (const cell of head.children) cell.setAttribute('scope', 'col');
  table.append(make('thead', {}, [head]));
  const body = make('tbody');
  working.forEach((line, number) => {
    const isLast = number === working.length - 1;
    const other = yours?.find(({ name }) => name === line.name)?.result;
    const own = other ?? (isLast && typeof said === 'string' ? said : '');
    const mine = make('td', { text: own });
    if (own && own !== line.result) mine.className = 'hb-practice__other';
    const heading = make('th', { text: line.label });
    heading.scope = 'row';
    body.append(make('tr', {}, [heading, mine, make('td', { text: line.result })]));
    const sum = make('td', { text: `${line.symbols}: ${line.numbers}`, is: 'hb-small' });
    sum.colSpan = 3;
    body.append(make('tr', {}, [sum]));
  });
  table.append(body);
  return table;
}
