/** Asks the engine of questions, which the page brings: see runtime/practice_program.py. */

import { practise } from '../client/shared-client.js';

const SEEDS = 1_000_000;

/** Another question, or the same one with other figures. */
export const newSeed = () => String(Math.floor(Math.random() * SEEDS));

const program = () =>
  /** @type {{HB_PRACTICE?: string}} */ (/** @type {unknown} */ (globalThis)).HB_PRACTICE ?? '';

/** Its words are for the reader. */
class NotAsked extends Error {}

/**
 * @param {object} request
 * @returns {Promise<any>} what the engine says to it: `practice`, and more beside a list
 * @throws {NotAsked} where no answer comes, and what was wrong with the request
 */
export async function askEngine(request) {
  if (!program()) {
    throw new NotAsked(
      'The questions are not on this device. Go online, and open this page again.',
    );
  }
  let reply;
  try {
    reply = /** @type {any} */ (await practise(request, program()));
  } catch (error) {
    throw new NotAsked(error instanceof Error ? error.message : String(error));
  }
  const refused = reply.refused?.[0] ?? reply.failed;
  if (refused) throw new NotAsked(refused.message);
  return reply;
}
