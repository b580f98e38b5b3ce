/** The answers to a paper as a file that its reader hands over: no name is in it. */

import { download } from '../lib/download.js';
import { newSign } from './seed.js';

/** @typedef {import('./kept-sitting.js').Kept} Kept */

// `calcs/practice/answer_file.py` reads it.
const FORMAT = 'gas-commissioning-paper-answers';
const SITTING_LENGTH = 10;

/**
 * @typedef {object} Handed a paper that was handed in
 * @property {string} title
 * @property {string} name of the file
 * @property {string} text of the file
 */

/** By which a paper is known again that is handed over twice. It is drawn, and means nobody. */
export const newSitting = () => newSign(SITTING_LENGTH);

/**
 * @param {Kept} kept
 * @param {{title: string, drawn: string}} paper `drawn`: by which its questions are known again
 * @returns {Handed}
 */
export function handedIn({ paper, seed, edition, sitting, given }, { title, drawn }) {
  const file = { format: FORMAT, version: 1, edition, paper, seed, sitting, drawn, given };
  return {
    title: `${title}, seed ${seed}`,
    name: `answers-${paper}-${seed}-${sitting.slice(0, 4)}.json`,
    text: `${JSON.stringify(file, null, 1)}\n`,
  };
}

/** @param {Handed} handed */
export function saveAnswers({ name, text }) {
  download(name, new Blob([text], { type: 'application/json' }));
}

/**
 * The file as this device can give it to another program, as mail. Some pass on texts alone.
 *
 * @param {Handed} handed
 * @returns {File | null} null where the device can't
 */
export function sharedFile({ name, text }) {
  if (typeof navigator.canShare !== 'function') return null;
  const files = [
    new File([text], name, { type: 'application/json' }),
    new File([text], name.replace(/json$/, 'txt'), { type: 'text/plain' }),
  ];
  return files.find((file) => navigator.canShare({ files: [file] })) ?? null;
}
