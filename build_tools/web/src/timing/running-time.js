/**
 * @typedef {{elapsed: number, startedAt: number | null}} Kept times in milliseconds
 */

/** A second touch as soon as this after a start is the same touch of a glove, felt twice. */
const BOUNCE_MS = 400;

/** A jump of the wall clock against the running clock that a person would notice. */
const JUMP_MS = 2000;

/**
 * Time that runs on while the tablet sleeps. The wall clock counts the sleep, but can be set
 * back; the page's own clock cannot, but may stand still in sleep. The greater of the two is
 * the time that passed.
 */
export class RunningTime {
  #before = 0;
  /** @type {number | null} */ #startedAt = null;
  #tickAtStart = 0;
  #sameRun = true;

  /** @param {Kept | null} kept a time that ran, or stood, before a reload */
  constructor(kept) {
    this.#before = kept?.elapsed ?? 0;
    this.#startedAt = kept?.startedAt ?? null;
    // The page's own clock began again with the reload: only the wall clock knows.
    this.#sameRun = this.#startedAt === null;
  }

  get isRunning() {
    return this.#startedAt !== null;
  }

  start() {
    this.#startedAt = Date.now();
    this.#tickAtStart = performance.now();
    this.#sameRun = true;
  }

  stop() {
    this.#before = this.elapsed;
    this.#startedAt = null;
  }

  reset() {
    this.#before = 0;
    this.#startedAt = null;
  }

  get #byWall() {
    return this.#startedAt === null ? 0 : Math.max(0, Date.now() - this.#startedAt);
  }

  get #byTick() {
    return this.isRunning && this.#sameRun ? performance.now() - this.#tickAtStart : 0;
  }

  /** @returns {number} milliseconds since it was started last */
  get thisRun() {
    return Math.max(this.#byWall, this.#byTick);
  }

  /** @returns {number} milliseconds */
  get elapsed() {
    return this.#before + this.thisRun;
  }

  /** Whether it started so shortly ago that a touch is still the one that started it. */
  get justStarted() {
    return this.isRunning && this.thisRun <= BOUNCE_MS;
  }

  /** Whether the device slept, or its clock was set, while the time ran. */
  get jumped() {
    return this.isRunning && this.#sameRun && Math.abs(this.#byWall - this.#byTick) > JUMP_MS;
  }

  /** @returns {Kept} */
  get kept() {
    return { elapsed: this.#before, startedAt: this.#startedAt };
  }
}

/** @param {number} milliseconds @returns {string} 122 400 as "2:02.4" */
export function clockText(milliseconds) {
  const tenths = Math.floor(milliseconds / 100);
  return `${minutesText(Math.floor(tenths / 10))}.${tenths % 10}`;
}

/** @param {number} seconds @returns {string} 122 as "2:02" */
export function minutesText(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
