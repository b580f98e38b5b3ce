import { readLocal, writeLocal } from '../lib/local-storage.js';
import { Timer } from './timer.js';
import { tone } from './tone.js';
import { WakeLock } from './wake-lock.js';

/** @typedef {import('./timer.js').About} About */
/** @typedef {import('./timer.js').KeptTimer} KeptTimer */

const KEY = 'hb:timers';
const BEAT_MS = 200;
const VIBRATION_MS = [400, 200, 400, 200, 400];

/**
 * Every timer of this device, by the step that it belongs to. They go on while the reader moves
 * between pages, and through a reload. Each change and each beat is told as `hb:timers`.
 */
class Timers {
  /** @type {Map<string, Timer>} */ #all = new Map();
  /** @type {WakeLock} */ #awake = new WakeLock();
  /** @type {ReturnType<typeof setInterval> | undefined} */ #beating;
  #pressing = false;
  /** Whether they go on through a reload: a device may have no room, or refuse. */ areKept = true;

  constructor() {
    this.#read();
    // Another page of this device may have changed them, or this one comes back by Back.
    const readAgain = () => {
      this.#read();
      this.#beat();
    };
    window.addEventListener('storage', ({ key }) => key === KEY && readAgain());
    window.addEventListener('pageshow', ({ persisted }) => persisted && readAgain());
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') this.#beat();
    });
  }

  /** @param {string} id */
  get(id) {
    return this.#all.get(id);
  }

  /** @returns {Timer[]} what ends first, or ended first, before the others; stopwatches last */
  get inOrder() {
    const all = [...this.#all.values()];
    const periods = all.filter((timer) => !timer.isWatch);
    periods.sort((one, other) => one.remaining - other.remaining);
    return [...periods, ...all.filter((timer) => timer.isWatch)];
  }

  get someRun() {
    return this.inOrder.some((timer) => timer.state === 'running');
  }

  get someSound() {
    return this.inOrder.some((timer) => timer.isPressing);
  }

  /**
   * @param {string} id
   * @param {About} about
   */
  start(id, about) {
    const timer =
      this.#all.get(id) ?? new Timer({ ...about, elapsed: 0, startedAt: null, rung: 0 });
    this.#all.set(id, timer);
    timer.run();
    tone.unlock();
    this.#changed();
  }

  /** @param {string} id */
  pause(id) {
    this.#all.get(id)?.pause();
    this.#changed();
  }

  /** @param {string} id */
  clear(id) {
    this.#all.delete(id);
    this.#changed();
  }

  clearAll() {
    this.#all.clear();
    this.#changed();
  }

  /** Goes on with what was kept; called once the page can show it. */
  begin() {
    this.#beat();
  }

  #changed() {
    this.#save();
    this.#beat();
  }

  #beat() {
    const ringing = this.inOrder.filter((timer) => timer.ringNow());
    if (ringing.length) {
      tone.play();
      // A browser reports a fault where a page that nobody has touched vibrates.
      if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.(VIBRATION_MS);
      this.#save();
    }
    document.dispatchEvent(new CustomEvent('hb:timers', { detail: { ringing } }));
    if (this.someRun) void this.#awake.hold();
    else void this.#awake.release();
    const pressing = this.someSound;
    if (this.#pressing && !pressing) tone.rest();
    this.#pressing = pressing;
    this.#keepBeating(this.inOrder.some((timer) => timer.state !== 'paused'));
  }

  /** @param {boolean} wanted */
  #keepBeating(wanted) {
    if (wanted) this.#beating ??= setInterval(() => this.#beat(), BEAT_MS);
    else {
      clearInterval(this.#beating);
      this.#beating = undefined;
    }
  }

  #read() {
    this.#all = new Map();
    for (const [id, each] of Object.entries(readKept())) this.#all.set(id, new Timer(each));
  }

  #save() {
    const entries = [...this.#all].map(([id, timer]) => [id, timer.kept]);
    const text = entries.length ? JSON.stringify(Object.fromEntries(entries)) : null;
    this.areKept = writeLocal(KEY, text) || !text;
  }
}

/** @returns {Record<string, KeptTimer>} what is kept and still has its shape */
function readKept() {
  try {
    const found = Object.entries(JSON.parse(readLocal(KEY) ?? '{}'));
    return Object.fromEntries(found.filter(([, each]) => isTimer(each)));
  } catch {
    return {};
  }
}

/** @param {unknown} each */
function isTimer(each) {
  const timer = /** @type {Partial<KeptTimer> | null} */ (each);
  const numbers = [timer?.period, timer?.elapsed, timer?.rung, timer?.startedAt ?? 0];
  return (
    [timer?.name, timer?.where, timer?.address].every((text) => typeof text === 'string') &&
    numbers.every(Number.isFinite)
  );
}

export const timers = new Timers();
