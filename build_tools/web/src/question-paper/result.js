/** What is said to a paper that was handed in: marks, what was unsafe, and each question. */

import { drawn } from '../practice/drawing.js';
import { make } from '../practice/elements.js';
import { showReasons, slipWords } from '../practice/feedback.js';
import { handOver } from './hand-over.js';

/** @typedef {import('./ask-papers.js').Paper} Paper */
/** @typedef {import('./ask-papers.js').Asked} Asked */

/**
 * @typedef {object} Extra what a paper says of one answer beside what practice says
 * @property {number} marks
 * @property {boolean} [open] it was left open
 * @property {string} [unread] why it could not be read
 * @property {{label: string, marks: number}[]} [lines]
 */
/** @typedef {Asked & import('../practice/feedback.js').Told & Extra} Marked */
/** @typedef {Omit<Paper, 'asked'> & {marks: number, unsafe: number, reached: boolean, drawn: string, asked: Marked[]}} Result */

/**
 * @param {HTMLElement} place
 * @param {Result} result
 * @param {string} took how long it took, in words; empty where no time was kept
 * @param {import('./answers-file.js').Handed} handed
 * @param {() => void} leave
 */
export function showResult(place, result, took, handed, leave) {
  const total = make('p', {
    text: `${result.marks} of ${result.of} marks`,
    is: 'hb-papers__total',
  });
  total.tabIndex = -1;
  const again = make('button', { text: 'Another paper', is: 'hb-button hb-button--main' });
  again.type = 'button';
  again.addEventListener('click', leave);
  place.replaceChildren(
    total,
    make('p', { text: passWords(result) }),
    ...unsafeWords(result),
    ...(took ? [make('p', { text: took })] : []),
    classPart(handed),
    ...result.asked.map(oneQuestion),
    make('p', { is: 'hb-practice__acts' }, [again]),
  );
  total.focus({ preventScroll: true });
}

/** @param {import('./answers-file.js').Handed} handed */
function classPart(handed) {
  const words = make('p', {}, [make('b', { text: 'For your lecturer: your answers as a file' })]);
  return make('div', { is: 'hb-papers__handed' }, [words, ...handOver(handed)]);
}

/** @param {Result} result */
function passWords({ needed, percent, marks, reached, no_unsafe: noUnsafe, unsafe }) {
  const mark = `Pass mark: ${needed} (${percent} %).`;
  if (reached) return `${mark} Reached.`;
  if (marks >= needed && noUnsafe && unsafe > 0) {
    return `${mark} The marks reach it, but no unsafe choice is allowed.`;
  }
  return `${mark} Not reached.`;
}

/** @param {Result} result */
function unsafeWords({ asked, unsafe }) {
  const numbers = asked.flatMap((one, place) => (one.unsafe ? [place + 1] : []));
  if (unsafe === 0) return [make('p', { text: 'Unsafe choices: none.' })];
  const words = `Unsafe choices: ${unsafe}, in question ${numbers.join(', ')}. Look at these first.`;
  return [make('p', {}, [make('b', { text: words })])];
}

/** @param {Marked} one @param {number} place */
function oneQuestion(one, place) {
  const fold = make('details', { is: 'hb-fold' });
  const unsafe = one.unsafe ? ', unsafe' : '';
  const head = `${place + 1}. ${one.title}: ${one.marks} of ${one.of}${unsafe}`;
  const body = make('div', { is: 'hb-fold__body hb-practice__told' });
  body.append(make('p', {}, [make('b', { text: one.stem })]));
  if (one.drawing)
    body.append(make('figure', { is: 'hb-practice__drawing' }, [drawn(one.drawing)]));
  body.append(said('Yours: ', yoursOf(one)), said('Right: ', one.answer));
  const slip = one.right ? '' : slipWords(one.slips);
  if (slip) body.append(make('p', {}, [make('b', { text: slip })]));
  if (one.unsafe) {
    body.append(make('p', { text: 'Done on an appliance, this could hurt someone.' }));
  }
  if (one.lines && one.marks < one.of) body.append(lineMarks(one.lines));
  const told = make('div');
  showReasons(told, one, one);
  body.append(told);
  fold.append(make('summary', { text: head, is: 'hb-fold__summary' }), body);
  return fold;
}

/** @param {Marked} one @returns {string | string[]} */
function yoursOf(one) {
  if (one.open) return 'not answered';
  return one.unread ? `${one.said} (${one.unread})` : one.said;
}

/** @param {string} head @param {string | string[]} texts */
function said(head, texts) {
  if (typeof texts === 'string' || texts.length === 1) {
    return make('p', {}, [make('b', { text: head }), [texts].flat()[0] ?? '']);
  }
  const list = make('ol', { is: 'hb-list' });
  list.append(...texts.map((text) => make('li', { text })));
  return make('div', {}, [make('b', { text: head }), list]);
}

/** @param {{label: string, marks: number}[]} lines */
function lineMarks(lines) {
  const list = make('ul', { is: 'hb-list' });
  list.append(...lines.map(({ label, marks }) => make('li', { text: `${label}: ${marks}` })));
  return make('div', {}, [make('b', { text: 'Marks by line' }), list]);
}
