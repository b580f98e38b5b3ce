/** Asks the engine about a class, a few papers at a time: it tells how far it is and can be left. */

import { askEngine } from '../practice/ask-engine.js';
import { batches } from './batches.js';

/** @typedef {{name: string, say: string, count: number}} Slip */
/** @typedef {{sat: number, right: number, unsafe: number}} Counts */
/** @typedef {Counts & {title: string, topic: string, number: number, wrong: number, left_open: number, unread: number, slips: Slip[], instead: {say: string, count: number}[]}} Question */
/** @typedef {{file: string, where: string, found: string, expected: string, fix: string}} Problem */

/**
 * @typedef {object} Told how a class did, as the engine puts it
 * @property {string} paper
 * @property {string} title
 * @property {number} percent of the marks that pass
 * @property {boolean} no_unsafe whether one unsafe choice is enough not to
 * @property {number} sat
 * @property {number} reached
 * @property {number} unsafe papers with an unsafe choice
 * @property {number} few a share of fewer says little
 * @property {Question[]} questions
 * @property {Slip[]} slips
 * @property {(Counts & {topic: string, title: string})[]} topics
 * @property {(Counts & {code: string, says: string, host: string})[]} outcomes
 */
/** @typedef {{told: Told | null, problems: Problem[], leftOut: number, files: number}} Result */

/**
 * @param {{paper: string, seed: string, files: import('./chosen-files.js').Chosen[]}} of
 * @param {(done: number, of: number) => void} tell how many papers are counted
 * @param {() => boolean} isLeft whether nobody waits for it any more
 * @returns {Promise<Result | null>} null where nobody does
 */
export async function askClass(of, tell, isLeft) {
  const { practice: read } = await askEngine({ about: 'class_read', ...of });
  const { paper, sat } = read;
  /** @type {Problem[]} */ const problems = read.problems;
  let counted;
  let done = 0;
  let files = read.files;
  for (const some of batches(sat)) {
    if (isLeft()) return null;
    tell(done, sat.length);
    const request = { about: 'class_count', paper, sat: some, so_far: counted ?? null };
    const { practice } = await askEngine(request);
    counted = practice.counted;
    problems.push(...practice.problems);
    // A table that a row is wrong with still counts; a learner's file has but one.
    const isWhole = (/** @type {Problem} */ { where }) => where === '';
    files -= practice.problems.filter(isWhole).length;
    done += some.length;
  }
  if (isLeft()) return null;
  const isSome = counted?.sat > 0;
  const told = isSome ? (await askEngine({ about: 'class_told', paper, counted })).practice : null;
  return { told, problems, leftOut: read.left_out, files };
}
