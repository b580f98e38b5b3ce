/** Keeps the answer of a calculator, and the readings that were typed into it. */

import { thisEdition } from '../lib/edition.js';
import { answerKey, keptAnswer, sameAnswer } from '../visit/kept-answer.js';
import { openVisit } from '../visit/open-visit.js';
import { wholeText } from '../visit/reading-text.js';
import { named, readingsIn } from './taken-readings.js';

/** @typedef {import('../calculator/calculator-element.js').CalculatorElement} Calculator */
/** @typedef {import('./taken-readings.js').Kept} Kept */

/**
 * @typedef {object} Done what was done, for the reader
 * @property {string} words
 * @property {Kept[]} fresh readings that were kept with it, and can be taken out again
 * @property {Kept[]} other readings of which the record holds another figure, which stays
 */

/**
 * @param {Calculator} root
 * @returns {Promise<Done>}
 */
export async function keepInRecord(root) {
  const { settled, invented } = root;
  const nothing = { fresh: [], other: [] };
  if (!settled) return { ...nothing, words: 'There is no answer to keep yet.' };
  if (invented.length) {
    const which = [...new Set(invented)].join(', ');
    const words = `Nothing was kept. The form still holds figures of the invented example: ${which}. Type your own, or press Clear.`;
    return { ...nothing, words };
  }
  const at = new Date().toISOString();
  const answer = keptAnswer(settled, { ...aboutOf(root), at });
  const readings = readingsIn(root, settled.inputs);
  const fresh = readings.filter(({ name }) => !openVisit.reading(name));
  const other = readings.filter((each) => differs(each));
  const isThere = openVisit.entries.some(
    (each) => each.kind === 'answer' && sameAnswer(each, answer),
  );
  await openVisit.keep((visit) => [
    ...(isThere
      ? []
      : [{ visit, key: answerKey(answer), kind: /** @type {const} */ ('answer'), ...answer }]),
    ...fresh.map((each) => ({
      ...{ visit, key: `reading:${each.name}`, kind: /** @type {const} */ ('reading'), at },
      ...each,
    })),
  ]);
  return { fresh, other, words: wordsOf(isThere, fresh, other) };
}

/** @param {Kept} reading */
function differs(reading) {
  const held = openVisit.reading(reading.name);
  return held !== undefined && wholeText(held) !== wholeText(reading);
}

/** @param {Calculator} root */
function aboutOf(root) {
  const step = root.closest('[data-hb-step]')?.getAttribute('data-hb-step');
  const page = document.querySelector('main h1')?.textContent?.trim() ?? '';
  return {
    calculator: root.getAttribute('calculator') ?? '',
    title: root.closest('section')?.getAttribute('aria-label') ?? '',
    where: step ? `${page}, step ${step}` : '',
    edition: thisEdition()?.name ?? '',
  };
}

/**
 * @param {boolean} isThere
 * @param {Kept[]} fresh
 * @param {Kept[]} other
 */
function wordsOf(isThere, fresh, other) {
  const visit = `“${openVisit.visit?.name ?? ''}”`;
  const where = [visit, openVisit.applianceName].filter(Boolean).join(', ');
  const said = [isThere ? 'This answer is in the record already.' : `Kept in ${where}.`];
  if (fresh.length) said.push(`With it, as readings of the visit: ${fresh.map(named).join('; ')}.`);
  if (other.length) {
    const held = other.map((each) => {
      const reading = openVisit.reading(each.name);
      return `${each.label} ${reading ? wholeText(reading) : ''}`;
    });
    said.push(`The record has other figures, which stay: ${held.join('; ')}.`);
  }
  return said.join(' ');
}
