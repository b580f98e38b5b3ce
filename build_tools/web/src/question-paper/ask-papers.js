/** Asks the engine about a paper. */

import { askEngine } from '../practice/ask-engine.js';

/** @typedef {import('../practice/question-field.js').Question} Question */
/** @typedef {Question & {of: number}} Asked a question with what it is worth */

/**
 * @typedef {object} Paper as the engine puts it
 * @property {string} id
 * @property {string} title
 * @property {string} seed
 * @property {number} questions
 * @property {number} minutes
 * @property {number} percent
 * @property {boolean} no_unsafe
 * @property {number} of marks in all
 * @property {number} needed marks that reach the pass mark
 * @property {Asked[]} asked
 */

/**
 * @param {object} request
 * @returns {Promise<any>} what the engine says to it
 */
export const askPapers = async (request) => (await askEngine(request)).practice;
