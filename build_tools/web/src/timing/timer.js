import { minutesText, RunningTime } from './running-time.js';

/**
 * @typedef {{name: string, where: string, address: string, period: number}} About what is timed,
 *   where it stands, and for how many milliseconds; a stopwatch has no period and counts up
 * @typedef {About & import('./running-time.js').Kept & {rung: number}} KeptTimer
 * @typedef {'running' | 'paused' | 'over'} State
 */

const RING_EVERY_MS = 10_000;
const RINGS = 3;
const STALE_MS = 60_000; // a timer that ended while nobody looked rings once, not three times

export const COUNTS_UP = 0;

/** A period that runs down, and how often its end was told; or a stopwatch. */
export class Timer {
  /** @type {RunningTime} */ #time;

  /** @param {KeptTimer} kept */
  constructor(kept) {
    const { name, where, address, period } = kept;
    /** @type {About} */ this.about = { name, where, address, period };
    this.#time = new RunningTime(kept);
    this.rung = kept.rung;
  }

  get isWatch() {
    return this.about.period === COUNTS_UP;
  }

  /** @returns {number} milliseconds since it was started, without pauses */
  get elapsed() {
    return this.#time.elapsed;
  }

  /** Whether the device slept, or its clock was set, while it ran. */
  get jumped() {
    return this.#time.jumped;
  }

  /** @returns {number} milliseconds; below nothing once it is over; without end for a stopwatch */
  get remaining() {
    return this.isWatch ? Number.POSITIVE_INFINITY : this.about.period - this.#time.elapsed;
  }

  /** @returns {State} */
  get state() {
    if (this.remaining <= 0) return 'over';
    return this.#time.isRunning ? 'running' : 'paused';
  }

  /** @returns {string} what is left as "1:59", rounded up: 0:00 is the end and nothing before */
  get text() {
    if (this.isWatch) return minutesText(Math.floor(this.#time.elapsed / 1000));
    return minutesText(Math.ceil(Math.max(0, this.remaining) / 1000));
  }

  /** @returns {string} how long ago it ended, as "0:35"; empty before */
  get lateText() {
    return this.state === 'over' ? minutesText(Math.floor(-this.remaining / 1000)) : '';
  }

  run() {
    this.#time.start();
  }

  /** A second touch of a glove does not pause what the first has just started. */
  pause() {
    if (this.state === 'running' && !this.#time.justStarted) this.#time.stop();
  }

  /** Whether it still has to sound: it runs down, or it ended a moment ago. */
  get isPressing() {
    if (this.isWatch) return false;
    return this.state === 'running' || (this.state === 'over' && this.rung < RINGS);
  }

  /** Whether it ended so long ago that one line about it will do. */
  get isOld() {
    return this.state === 'over' && -this.remaining > STALE_MS;
  }

  /** @returns {boolean} whether it is to ring now; said once for each time that it is due */
  ringNow() {
    if (this.state !== 'over' || this.rung >= RINGS) return false;
    const late = -this.remaining;
    const due = late > STALE_MS ? RINGS : Math.min(RINGS, 1 + Math.floor(late / RING_EVERY_MS));
    const rings = due > this.rung;
    this.rung = due;
    return rings;
  }

  /** @returns {KeptTimer} */
  get kept() {
    return { ...this.about, ...this.#time.kept, rung: this.rung };
  }
}
