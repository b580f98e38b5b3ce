/**
 * What the page and the worker say to each other. Messages are data, never code.
 *
 * @typedef {'run' | 'outcomes' | 'cross_check' | 'own' | 'list' | 'show' | 'teach' | 'practice'} Action
 * @typedef {{id: number, action: Action, request: object}} Asked
 * @typedef {Asked & {inParts?: boolean, replyChannel?: string}} Question
 *   page to worker; `inParts`: tell the first part of an answer as soon as it is there, also by
 *   the channel of the name `replyChannel`: see broadcast-reply.js
 * @typedef {{begin: 1}} Begin page to a worker that it has made early, once its first frame is drawn
 * @typedef {'fetching' | 'starting' | 'ready'} StageName
 * @typedef {{stage: StageName, way?: 'snapshot' | 'ordinary', why?: string}} Stage
 *   `why` says what kept the snapshot from being used
 * @typedef {{kind: string, field: string | null, message: string}} Failure
 * @typedef {{id: number, result: object} | {id: number, error: Failure}} Reply
 * @typedef {{id: number, first: object}} FirstPart of an answer, before its whole reply
 * @typedef {Reply | FirstPart | Stage | {stopped: Failure}} FromWorker
 *   `stopped`: the worker can't go on, so its page starts another
 */

/** The name of a worker that waits for the page's first frame: partials/javascripts/worker.html. */
export const EARLY = 'early';

/** The kind of failure that another worker can't mend. */
export const FILES_DAMAGED = 'FilesDamaged';

/** An error whose message can be shown to the reader as it stands. */
export class CalculatorStopped extends Error {
  name = 'CalculatorStopped';

  /**
   * @param {string} kind
   * @param {string} message
   * @param {string | null} [field]
   */
  constructor(kind, message, field = null) {
    super(message);
    this.kind = kind;
    this.field = field;
  }
}
