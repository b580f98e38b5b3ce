/** What this device keeps of practice: how each template went. A browser may refuse to keep it. */

import { readLocal, writeLocal } from '../lib/local-storage.js';

const KEY = 'hb:practice';
const VERSION = 1;
const MOST = 600; // answers kept: years of bus rides, in some tens of kilobytes

/** Stages of a question whose answer is worked out in lines. */
export const STAGES = /** @type {const} */ (['worked', 'last_line', 'alone']);

/**
 * @typedef {object} Template how one template went
 * @property {number} stage place in STAGES
 * @property {number} failures in a row
 * @property {boolean} [first] it was answered unsafely by somebody who was sure: it comes first
 * @property {import('./schedule.js').Kept} [card] when it is due
 */

/**
 * @typedef {object} Answered one answer
 * @property {string} question
 * @property {string} topic
 * @property {string} at
 * @property {boolean} right
 * @property {boolean} alone
 * @property {boolean} unsafe
 * @property {string} sure
 * @property {string[]} slips
 */

/**
 * @typedef {object} Progress
 * @property {number} version
 * @property {Record<string, Template>} templates
 * @property {Answered[]} answers
 * @property {Record<string, string>} [said] words of each slip that was made
 */

/** @returns {Progress} */
const empty = () => ({ version: VERSION, templates: {}, answers: [] });

/** @returns {Progress} what is kept; nothing where it can't be read */
export function readProgress() {
  try {
    const kept = JSON.parse(readLocal(KEY) ?? 'null');
    return kept?.version === VERSION && kept.templates && kept.answers ? kept : empty();
  } catch {
    return empty();
  }
}

/** @param {Progress} progress @returns {boolean} whether it is kept */
export function writeProgress(progress) {
  progress.answers.splice(0, progress.answers.length - MOST);
  return writeLocal(KEY, JSON.stringify(progress));
}

/** Forgets all of it. */
export const clearProgress = () => writeLocal(KEY, null);

/** @param {Progress} progress @param {string} name @returns {Template} */
export function templateOf(progress, name) {
  progress.templates[name] ??= { stage: 0, failures: 0 };
  return progress.templates[name];
}

/**
 * The stage after an answer: on when it is right, one back after two failures.
 *
 * @param {Template} template
 * @param {boolean} isRight
 */
export function moveStage(template, isRight) {
  template.failures = isRight ? 0 : template.failures + 1;
  if (isRight) template.stage = Math.min(template.stage + 1, STAGES.length - 1);
  if (template.failures >= 2) {
    template.stage = Math.max(template.stage - 1, 0);
    template.failures = 0;
  }
}
