/**
 * Keeps at most one request in flight and one waiting: the latest one wins, so that fast
 * typing never builds a queue.
 *
 * @template Q, R
 */
export class LatestRequest {
  /** @type {(request: Q) => Promise<R>} */ #send;
  /** @type {(settled: {request: Q, reply?: R, error?: unknown}) => void} */ #settled;
  /** @type {Q | null} */ #waiting = null;
  #busy = false;

  /**
   * @param {(request: Q) => Promise<R>} send
   * @param {(settled: {request: Q, reply?: R, error?: unknown}) => void} settled
   *   called with what became of the latest request only
   */
  constructor(send, settled) {
    this.#send = send;
    this.#settled = settled;
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
      settled = { request, reply: await this.#send(request) };
    } catch (error) {
      settled = { request, error };
    }
    if (!this.#waiting && !this.#dropped) this.#settled(settled);
  }
}
