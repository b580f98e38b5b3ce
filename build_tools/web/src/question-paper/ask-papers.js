/** Asks the engine about a paper. */

import { practise } from '../client/shared-client.js';
import { program } from '../practice/program.js';

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

/** What the reader is told where no answer comes. */
export class NotAsked extends Error {}

/**
 * @param {object} request
 * @returns {Promise<any>} what the engine says to it
 * @throws {NotAsked} with words for the reader
 */
export async function askPapers(request) {
  if (!program()) {
    throw new NotAsked(
      'The questions are not on this device. Go online, and open this page again.',
    );
  }
  let reply;
  try {
    reply = await practise(request, program());
  } catch (error) {
    throw new NotAsked(error instanceof Error ? error.message : String(error));
  }
  const refused = reply.refused?.[0] ?? reply.failed;
  if (refused) throw new NotAsked(refused.message);
  return reply.practice;
}
