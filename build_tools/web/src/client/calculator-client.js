import { openReplyChannel } from '../protocol/broadcast-reply.js';
import { CalculatorStopped, FILES_DAMAGED } from '../protocol/messages.js';
import { hasEarlyWorker, takeEarlyWorker } from './early-worker.js';

/** @typedef {import('../protocol/messages.js').Action} Action */
/** @typedef {import('../protocol/messages.js').FromWorker} FromWorker */
/** @typedef {import('../protocol/messages.js').Stage} Stage */

/**
 * @typedef {object} Pending one question that has no reply yet
 * @property {import('../protocol/messages.js').Question} question
 * @property {boolean} triedAgain
 * @property {boolean} hasFirst whether its first part was told
 * @property {ReturnType<typeof setTimeout>} [clock]
 * @property {(() => void) | undefined} tellAgain
 * @property {((first: any) => void) | undefined} tellFirst
 * @property {(reply: any) => void} resolve
 * @property {(reason: Error) => void} reject
 */

/**
 * How long a question may take. A start may have to fetch the whole runtime over a slow network.
 * Once it is done an answer takes milliseconds, and one that has already cost a worker gets less.
 * A paper for a class is hundreds of answers, which take a slow phone seconds. A reader who sits at
 * a paper can wait for that; one who kneels at a boiler waits for an answer alone.
 */
const PATIENCE_MS = { start: 60_000, answer: 8_000, again: 4_000, practice: 40_000 };
const PRACTICE = new Set(['practice', 'teach']);

/** The page is drawn and can be used before the runtime takes a core. */
const IDLE_AT_MOST_MS = 500;

/**
 * Asks the calculators, which run in a worker, and starts another worker when one dies. Every
 * question settles: with a reply, or with an error whose message can be shown.
 */
export class CalculatorClient {
  /** @type {string} */ #workerUrl;
  /** @type {typeof PATIENCE_MS} */ #patienceMs;
  /** @type {(url: string) => Worker} */ #makeWorker;
  /** @type {typeof openReplyChannel} */ #openReplyChannel;
  /** @type {Worker | null} */ #worker = null;
  /** @type {import('../protocol/broadcast-reply.js').ReplyChannel | null} */ #replyChannel = null;
  /** @type {Map<number, Pending>} */ #pending = new Map();
  /** @type {Set<(stage: Stage) => void>} */ #listeners = new Set();
  /** @type {Stage | null} */ #stage = null;
  #lastId = 0;
  /** A worker was lost and none has answered since: the next one is not waited for as long. */
  #isSuspect = false;
  /** @type {CalculatorStopped | null} why no other worker would do better */ #final = null;

  /**
   * @param {string} workerUrl
   * @param {object} [options]
   * @param {typeof PATIENCE_MS} [options.patienceMs]
   * @param {(url: string) => Worker} [options.makeWorker]
   * @param {typeof openReplyChannel} [options.replyChannel]
   */
  constructor(
    workerUrl,
    { patienceMs = PATIENCE_MS, makeWorker, replyChannel = openReplyChannel } = {},
  ) {
    this.#workerUrl = workerUrl;
    this.#patienceMs = patienceMs;
    this.#makeWorker = makeWorker ?? ((url) => takeEarlyWorker() ?? new Worker(url));
    this.#openReplyChannel = replyChannel;
  }

  /**
   * @param {object} request as `calcs.bridge` takes it
   * @param {(first: any) => void} [tellFirst]
   *   hears the first part of an answer as soon as it is there; again when another worker takes over
   * @param {() => void} [tellAgain] hears when a worker was lost over it and another one is asked
   * @returns {Promise<any>} the reply of `calcs.bridge`
   */
  run(request, tellFirst, tellAgain) {
    const action = /** @type {{action?: Action}} */ (request).action ?? 'run';
    return new Promise((resolve, reject) => {
      const question = { id: ++this.#lastId, action, request, inParts: Boolean(tellFirst) };
      const pending = {
        question,
        triedAgain: this.#isSuspect,
        hasFirst: false,
        tellFirst,
        tellAgain,
        resolve,
        reject,
      };
      this.#pending.set(question.id, pending);
      if (this.#final) this.#settle(pending, { error: this.#final });
      else this.#send(pending);
    });
  }

  /**
   * Tells how far the calculators are, from now on and at once. Starts them when the page is idle.
   *
   * @param {(stage: Stage) => void} listener
   */
  onStage(listener) {
    this.#listeners.add(listener);
    if (this.#stage) listener(this.#stage);
    else if (hasEarlyWorker()) this.#start();
    else whenIdle(() => this.#start());
  }

  /** Ends the worker. What has no reply yet is told so. */
  stop() {
    this.#end();
    const stopped = new CalculatorStopped('Stopped', STOPPED);
    for (const pending of [...this.#pending.values()]) this.#settle(pending, { error: stopped });
  }

  /** @returns {Worker | null} */
  #start() {
    if (this.#worker) return this.#worker;
    try {
      const worker = this.#makeWorker(this.#workerUrl);
      worker.addEventListener('message', ({ data }) => this.#heard(worker, data));
      for (const type of ['error', 'messageerror']) {
        worker.addEventListener(type, (event) => {
          event.preventDefault();
          this.#died(worker, 'WorkerDied', 'The calculators stopped before they answered.');
        });
      }
      this.#worker = worker;
      this.#replyChannel = this.#openReplyChannel((message) => this.#heard(worker, message));
    } catch {
      // A browser may refuse to make a worker at all: no memory, or a setting that forbids it.
      this.#worker = null;
    }
    return this.#worker;
  }

  /** @param {Pending} pending */
  #send(pending) {
    const worker = this.#start();
    pending.hasFirst = false;
    this.#wind(pending);
    if (!worker) {
      return this.#settle(pending, { error: new CalculatorStopped('NoWorker', NO_WORKER) });
    }
    try {
      worker.postMessage({ ...pending.question, replyChannel: this.#replyChannel?.name });
    } catch (error) {
      // The readings hold something that can't be sent: a fault of the page, told as such.
      this.#settle(pending, { error: new CalculatorStopped('NotSent', String(error)) });
    }
  }

  /**
   * Gives a question its time, anew when the worker has started.
   *
   * @param {Pending} pending
   */
  #wind(pending) {
    clearTimeout(pending.clock);
    const worker = this.#worker;
    pending.clock = setTimeout(() => {
      if (worker) this.#died(worker, 'TimedOut', 'The calculators took too long to answer.');
    }, this.#patienceMs[this.#patienceFor(pending)]);
  }

  /** @param {Pending} pending */
  #patienceFor({ question, triedAgain }) {
    if (this.#stage?.stage !== 'ready') return 'start';
    if (PRACTICE.has(question.action)) return 'practice';
    return triedAgain ? 'again' : 'answer';
  }

  /**
   * @param {Worker} worker
   * @param {FromWorker} message
   */
  #heard(worker, message) {
    if (worker !== this.#worker) return;
    if ('stage' in message) return this.#tell(message);
    if ('stopped' in message) return this.#stopped(worker, message.stopped);
    const pending = this.#pending.get(message.id);
    if (!pending) return;
    if ('first' in message) {
      if (!pending.hasFirst) pending.tellFirst?.(message.first);
      pending.hasFirst = true;
      return;
    }
    if ('result' in message) return this.#settle(pending, { reply: message.result });
    const { kind, message: words, field } = message.error;
    this.#settle(pending, { error: new CalculatorStopped(kind, words, field) });
  }

  /**
   * @param {Worker} worker
   * @param {import('../protocol/messages.js').Failure} why
   */
  #stopped(worker, { kind, message }) {
    if (kind === FILES_DAMAGED) {
      this.#final = new CalculatorStopped(kind, `${message} ${TELL_THE_HOST}`);
    }
    this.#died(worker, kind, message);
  }

  /** @param {Stage} stage */
  #tell(stage) {
    this.#stage = stage;
    for (const pending of this.#pending.values()) this.#wind(pending);
    for (const listener of this.#listeners) listener(stage);
  }

  /**
   * Each question that was out goes to a new worker once; the second time it is told why.
   *
   * @param {Worker} worker
   * @param {string} kind
   * @param {string} words
   */
  #died(worker, kind, words) {
    if (worker !== this.#worker) return;
    this.#end();
    this.#isSuspect = true;
    for (const pending of [...this.#pending.values()]) {
      clearTimeout(pending.clock);
      if (this.#final) this.#settle(pending, { error: this.#final });
      else if (pending.triedAgain) {
        this.#settle(pending, { error: new CalculatorStopped(kind, `${words} ${RELOAD}`) });
      } else {
        pending.triedAgain = true;
        pending.tellAgain?.();
        this.#send(pending);
      }
    }
  }

  /**
   * @param {Pending} pending
   * @param {{reply?: object, error?: Error}} outcome
   */
  #settle(pending, { reply, error }) {
    clearTimeout(pending.clock);
    this.#pending.delete(pending.question.id);
    if (error) return pending.reject(error);
    this.#isSuspect = false;
    pending.resolve(reply);
  }

  #end() {
    this.#worker?.terminate();
    this.#replyChannel?.close();
    this.#worker = this.#replyChannel = null;
    this.#stage = null;
  }
}

const RELOAD = 'Your readings are kept. Reload the page to try again.';
const STOPPED = 'You stopped the calculator.';
const TELL_THE_HOST = 'No sum is worked out with it. Tell whoever keeps this handbook.';
const NO_WORKER = `This browser did not let the calculators start. ${RELOAD}`;

/** @param {() => void} act */
function whenIdle(act) {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(act, { timeout: IDLE_AT_MOST_MS });
  else setTimeout(act, 1);
}
