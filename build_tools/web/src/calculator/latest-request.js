/**
 * Keeps at most one request in flight and one waiting: the latest one wins, so that fast
 * typing never builds a queue.
 *
 * @template Q, R
 */
export class LatestRequest {
  /** @type {(request: Q, tellFirst: (first: R) => void, again: () => void) => Promise<R>} */ #send;
  /** @type {(settled: {request: Q, reply?: R, error?: unknown}) => void} */ #settled;
  /** @type {(begun: {request: Q, first: R}) => void} */ #begun;
  /** @type {() => void} */ #again;
  /** @type {Q | null} */ #waiting = null;
  #busy = false;

  /**
   * @param {(request: Q, tellFirst: (first: R) => void, again: () => void) => Promise<R>} send
   * @param {(settled: {request: Q, reply?: R, error?: unknown}) => void} settled
   *   called with what became of the latest request only
   * @param {(begun: {request: Q, first: R}) => void} begun
   *   called with the first part of the reply to it
   * @param {() => void} again called when it is being tried a second time
   */
  constructor(send, settled, begun, again) {
    this.#send = send;
    this.#settled = settled;
    this.#begun = begun;
    this.#again = again;
  }

  /** @param {Q} request */
  ask(request) {
    this.#waiting = request;
    if (!this.#busy) void this.#run();
  }

  /** Forgets what is waiting and ignores what is in flight. */
  forget() {
    this.#waiting = null;
    this.#dropped = true;
  }

  #dropped = false;

  /** Whether the reply to what was asked last is still to come. */
  get isAsking() {
    return Boolean(this.#waiting) || (this.#busy && !this.#dropped);
  }

  async #run() {
    this.#busy = true;
    try {
      while (this.#waiting) await this.#sendNext(this.#waiting);
    } finally {
      // A fault in showing one answer must not keep the next one from being asked for.
      this.#busy = false;
    }
  }

  /** @param {Q} request */
  async #sendNext(request) {
    this.#waiting = null;
    this.#dropped = false;
    /** @type {{request: Q, reply?: R, error?: unknown}} */
    let settled;
    try {
      const tellFirst = (/** @type {R} */ first) => {
        if (this.#isWanted) this.#begun({ request, first });
      };
      const reply = await this.#send(request, tellFirst, this.#again);
      settled = { request, reply };
    } catch (error) {
      settled = { request, error };
    }
    if (this.#isWanted) this.#settled(settled);
  }

  /** Whether what is in flight is still what was asked last. */
  get #isWanted() {
    return !this.#waiting && !this.#dropped;
  }
}
