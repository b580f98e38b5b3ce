/** Questions one by one, large, for a class: the answer on a touch. Nothing of it is kept. */

import { LargeView } from '../large/large-view.js';
import { askEngine, newSeed } from './ask-engine.js';
import { drawn } from './drawing.js';
import { make } from './elements.js';
import { lines } from './feedback.js';

/** @typedef {import('./question-field.js').Question} Question */
/** @typedef {import('./schedule.js').Listed} Listed */
/** @typedef {import('../large/large-view.js').Sheet} Sheet */

/** @param {(listed: Listed[]) => Listed[]} among those that were chosen, of all */
export async function openLargeQuestions(among) {
  /** @type {Promise<Sheet>[]} those that were shown, for the way back */ const shown = [];
  /** @type {Listed[]} */ let left = [];
  let listed = /** @type {Promise<Listed[]> | null} */ (null);

  const next = async () => {
    listed ??= askEngine({ about: 'list' }).then(({ practice }) => among(practice));
    if (left.length === 0) left = shuffled(await listed);
    const one = left.pop();
    if (!one) throw new Error('There is no question about that.');
    const { practice } = await askEngine({ about: 'question', question: one.id, seed: newSeed() });
    return sheetOf(practice);
  };
  const at = (/** @type {number} */ number) => {
    shown[number] ??= next().catch((error) => failed(error));
    return shown[number];
  };
  await new LargeView({ at, ask: 'Show the answer' }).open();
}

/** @param {Question} question @returns {Sheet} */
function sheetOf(question) {
  const choices = make('ol', { is: 'hb-large__choices' });
  choices.append(...question.items.map(({ text }) => make('li', { text })));
  const { answer, because, sum, working } = question.worked;
  const why = because || question.why;
  return {
    where: question.title,
    shown: [
      make('p', { text: question.stem, is: 'hb-large__main' }),
      ...(question.drawing ? [make('figure', {}, [drawn(question.drawing)])] : []),
      ...(question.items.length > 0 ? [choices] : []),
    ],
    answer: [
      ...[answer].flat().map((text) => make('p', {}, [make('b', { text })])),
      ...(working.length > 0 ? [lines(working)] : []),
      ...(sum ? [make('p', { text: sum })] : []),
      ...(why ? [make('p', {}, [make('b', { text: 'Why ' }), why])] : []),
    ],
  };
}

/** @param {unknown} error @returns {Sheet} */
function failed(error) {
  const words = error instanceof Error ? error.message : String(error);
  return { where: 'No question', shown: [make('p', { text: words })], answer: [] };
}

/** @param {Listed[]} listed @returns {Listed[]} */
function shuffled(listed) {
  return listed
    .map((one) => ({ one, place: Math.random() }))
    .sort((a, b) => a.place - b.place)
    .map(({ one }) => one);
}
