import { storedKey } from '../lib/appliance-key.js';
import { find, setText } from '../lib/find.js';
import { ownerAt } from '../lib/present-visit.js';
import { readSession, sessionKey, writeSession } from '../lib/session-storage.js';
import { fillReading, giveReading, takerOf } from './give-reading.js';
import { clockText, RunningTime } from './running-time.js';
import { focusNext, offer } from './state-buttons.js';
import { WakeLock } from './wake-lock.js';

/** @typedef {import('./running-time.js').Kept} Kept */

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
    this.#take();
    find(this, '[data-hb-stopwatch-body]').hidden = false;
    this.#on('start', () => this.#run(), signal);
    this.#on('carry-on', () => this.#run(), signal);
    this.#on('stop', () => this.#stop(), signal);
    this.#on('reset', () => this.#reset(), signal);
    this.#on('use', () => this.#use(), signal);
    document.addEventListener('visibilitychange', () => this.#woke(), { signal });
    document.addEventListener('hb:visit', () => this.#isOfAnother && this.#begin(), { signal });
    this.#begin();
  }

  get #keyNow() {
    return storedKey(sessionKey('stopwatch', this), ownerAt(this));
  }

  /** The time of one appliance is not shown for another; it runs on until that one is chosen again. */
  get #isOfAnother() {
    return this.#key !== this.#keyNow;
  }

  #take() {
    this.#key = this.#keyNow;
    this.#time = new RunningTime(/** @type {Kept | null} */ (readSession(this.#key)));
    this.#jumped = false;
  }

  #begin() {
    if (this.#isOfAnother) this.#take();
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
        writeSession(this.#key, this.#time.kept);
        this.#show();
        focusNext(this);
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
    if (!this.#time.justStarted) this.#time.stop();
  }

  #reset() {
    this.#jumped = false;
    this.#say('');
    this.#time.reset();
  }

  #use() {
    giveReading(this, this.dataset.hbFor ?? '', this.#seconds, 's');
    fillReading(this, this.dataset.hbFor ?? '', this.#seconds, 's');
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
    offer(this, BUTTONS, this.#state);
    if (!takerOf(this, this.dataset.hbFor ?? '')) find(this, '[data-hb-use]').hidden = true;
  }

  /** @param {string} text */
  #say(text) {
    setText(find(this, '[data-hb-said]'), text);
  }
}
