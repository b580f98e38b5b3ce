import { keep, keyOf, recall } from './device-memory.js';
import { find, setText } from './find.js';
import { nearestCalculator } from './nearest-calculator.js';
import { clockText, RunningTime } from './running-time.js';
import { WakeLock } from './wake-lock.js';

/** @typedef {import('./running-time.js').Kept} Kept */

/** A stop that follows a start as soon as this is the same touch of a glove, felt twice. */
const BOUNCE_MS = 400;

/** Which buttons are on offer, by state: never one that a glove could hit by mistake. */
const BUTTONS = /** @type {const} */ ({
  zero: ['start'],
  running: ['stop'],
  stopped: ['use', 'carry-on', 'reset'],
});

/** A stopwatch that offers its time to a calculator on the same page. */
export class StopwatchElement extends HTMLElement {
  /** @type {RunningTime} */ #time = new RunningTime(null);
  /** @type {WakeLock} */ #awake = new WakeLock();
  /** @type {AbortController | null} */ #connected = null;
  #jumped = false;
  #key = '';

  connectedCallback() {
    this.#connected = new AbortController();
    const { signal } = this.#connected;
    this.#key = keyOf('stopwatch', this);
    this.#time = new RunningTime(/** @type {Kept | null} */ (recall(this.#key)));
    find(this, '[data-hb-stopwatch-body]').hidden = false;
    this.#on('start', () => this.#run(), signal);
    this.#on('carry-on', () => this.#run(), signal);
    this.#on('stop', () => this.#stop(), signal);
    this.#on('reset', () => this.#reset(), signal);
    this.#on('use', () => this.#use(), signal);
    document.addEventListener('visibilitychange', () => this.#woke(), { signal });
    this.#show();
    if (this.#time.isRunning) this.#keepGoing();
  }

  disconnectedCallback() {
    this.#connected?.abort();
    void this.#awake.release();
  }

  get #state() {
    if (this.#time.isRunning) return 'running';
    return this.#time.elapsed > 0 ? 'stopped' : 'zero';
  }

  /** The time as it goes into the form: seconds, to the tenth that the display shows. */
  get #seconds() {
    return (Math.floor(this.#time.elapsed / 100) / 10).toFixed(1);
  }

  /**
   * @param {string} name
   * @param {() => void} act
   * @param {AbortSignal} signal
   */
  #on(name, act, signal) {
    find(this, `[data-hb-${name}]`).addEventListener(
      'click',
      () => {
        act();
        keep(this.#key, this.#time.kept);
        this.#show();
        this.#focusNext();
      },
      { signal },
    );
  }

  #run() {
    this.#jumped = false;
    this.#say('');
    this.#time.start();
    this.#keepGoing();
  }

  #stop() {
    if (this.#time.thisRun > BOUNCE_MS) this.#time.stop();
  }

  #reset() {
    this.#jumped = false;
    this.#say('');
    this.#time.reset();
  }

  /** Looked up each time: a calculator may move to another step. */
  get #target() {
    const [calculator = '', name = ''] = (this.dataset.hbFor ?? '').split('.');
    return { name, calculator: nearestCalculator(this, calculator) };
  }

  #use() {
    const { name, calculator } = this.#target;
    const detail = { name, value: this.#seconds, unit: 's' };
    const reading = new CustomEvent('hb:reading', { bubbles: true, detail });
    (calculator ?? this).dispatchEvent(reading);
    this.#say(find(this, '[data-hb-said]').dataset.hbText ?? '');
  }

  #keepGoing() {
    void this.#awake.hold();
    const tick = () => {
      if (!this.#connected || this.#connected.signal.aborted) return;
      this.#show();
      if (this.#time.isRunning) requestAnimationFrame(tick);
      else void this.#awake.release();
    };
    requestAnimationFrame(tick);
  }

  #woke() {
    if (document.visibilityState !== 'visible' || !this.#time.isRunning) return;
    void this.#awake.hold();
    this.#show();
  }

  #show() {
    this.#jumped ||= this.#time.jumped;
    setText(find(this, '[data-hb-time]'), clockText(this.#time.elapsed));
    const slept = find(this, '[data-hb-slept]');
    setText(slept, this.#jumped ? (slept.dataset.hbText ?? '') : '');
    if (this.dataset.state === this.#state) return;
    this.dataset.state = this.#state;
    setText(find(this, '[data-hb-used-time]'), `${this.#seconds} s`);
    const offered = /** @type {readonly string[]} */ (BUTTONS[this.#state]);
    for (const name of Object.values(BUTTONS).flat()) {
      const useless = name === 'use' && !this.#target.calculator;
      find(this, `[data-hb-${name}]`).hidden = useless || !offered.includes(name);
    }
  }

  /** A button that is pressed and goes leaves the focus with the one that takes its place. */
  #focusNext() {
    const { activeElement } = document;
    if (activeElement instanceof HTMLElement && activeElement.offsetParent) return;
    const shown = [...this.querySelectorAll('button')].find((button) => !button.hidden);
    shown?.focus();
  }

  /** @param {string} text */
  #say(text) {
    setText(find(this, '[data-hb-said]'), text);
  }
}
