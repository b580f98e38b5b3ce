import { storedKey } from '../lib/appliance-key.js';
import { find, setText } from '../lib/find.js';
import { applianceAt, ownerAt } from '../lib/present-visit.js';
import { addressHere } from '../lib/site-url.js';
import { fillField, fillReading, giveReading, takerOf } from './give-reading.js';
import { clockText } from './running-time.js';
import { focusNext, offer } from './state-buttons.js';
import { COUNTS_UP } from './timer.js';
import { timers } from './timers.js';

/** @typedef {import('../protocol/bridge-types.js').RunAhead} RunAhead */

/** Which buttons are on offer, by state: never one that a glove could hit by mistake. */
const BUTTONS = /** @type {const} */ ({
  zero: ['start'],
  running: ['passing', 'stop'],
  stopped: ['use', 'carry-on', 'reset'],
});

/**
 * A stopwatch that offers its time to a calculator on the same page. It runs on without the page:
 * see timers.js. Where the meter's end of a run is foretold (`data-hb-run`), one touch as it passes
 * takes both the reading and the time.
 */
export class StopwatchElement extends HTMLElement {
  static observedAttributes = ['data-hb-run'];
  /** @type {AbortController | null} */ #connected = null;
  #jumped = false;
  #isDrawing = false;

  connectedCallback() {
    this.#connected = new AbortController();
    const { signal } = this.#connected;
    find(this, '[data-hb-stopwatch-body]').hidden = false;
    this.#on('start', () => this.#run(), signal);
    this.#on('carry-on', () => this.#run(), signal);
    this.#on('stop', () => this.#stop(), signal);
    this.#on('passing', () => this.#pass(), signal);
    this.#on('reset', () => this.#reset(), signal);
    this.#on('use', () => this.#use(), signal);
    for (const change of ['hb:timers', 'hb:visit'])
      document.addEventListener(change, () => this.#show(), { signal });
    const fold = this.closest('[data-hb-watch-fold]');
    if (fold instanceof HTMLDetailsElement) {
      fold.hidden = false;
      fold.open ||= this.#timer !== undefined;
    }
    this.#show();
  }

  disconnectedCallback() {
    this.#connected?.abort();
  }

  attributeChangedCallback() {
    if (this.#connected) this.#showRun();
  }

  /** The time of one appliance is not shown for another; it runs on until that one is chosen again. */
  get #id() {
    return storedKey(`watch:${addressHere(this.id)}`, ownerAt(this));
  }

  get #timer() {
    return timers.get(this.#id);
  }

  get #about() {
    return {
      name: this.dataset.hbName ?? '',
      where: [applianceAt(this), this.dataset.hbWhere].filter(Boolean).join(', '),
      address: addressHere(this.id),
      period: COUNTS_UP,
    };
  }

  get #elapsed() {
    return this.#timer?.elapsed ?? 0;
  }

  /** @returns {keyof typeof BUTTONS} */
  get #state() {
    const timer = this.#timer;
    if (!timer) return 'zero';
    return timer.state === 'running' ? 'running' : 'stopped';
  }

  /** The time as it goes into the form: seconds, to the tenth that the display shows. */
  get #seconds() {
    return (Math.floor(this.#elapsed / 100) / 10).toFixed(1);
  }

  /** @returns {RunAhead | null} */
  get #ahead() {
    return JSON.parse(this.dataset.hbRun ?? 'null');
  }

  /**
   * @param {string} name
   * @param {() => void} act
   * @param {AbortSignal} signal
   */
  #on(name, act, signal) {
    const pressed = () => {
      act();
      this.#show();
      focusNext(this);
    };
    find(this, `[data-hb-${name}]`).addEventListener('click', pressed, { signal });
  }

  #run() {
    this.#jumped = false;
    this.#say('');
    timers.start(this.#id, this.#about);
  }

  #stop() {
    timers.pause(this.#id);
  }

  /** The meter shows what was foretold: that reading and the time go into their fields. */
  #pass() {
    const ahead = this.#ahead;
    this.#stop();
    if (!ahead || this.#state !== 'stopped') return;
    const isTaken = [
      fillField(document, ahead.elapsed, this.#seconds, 's'),
      fillField(document, ahead.reading, ahead.value, ''),
    ].every(Boolean);
    const said = find(this, '[data-hb-said]').dataset;
    this.#say((isTaken ? said.hbPassed : said.hbStands) ?? '');
  }

  #reset() {
    this.#jumped = false;
    this.#say('');
    timers.clear(this.#id);
  }

  #use() {
    giveReading(this, this.dataset.hbFor ?? '', this.#seconds, 's');
    fillReading(this, this.dataset.hbFor ?? '', this.#seconds, 's');
    this.#say(find(this, '[data-hb-said]').dataset.hbText ?? '');
  }

  /** The tenths move with each frame, as long as it runs. */
  #keepDrawing() {
    if (this.#isDrawing) return;
    this.#isDrawing = true;
    const tick = () => {
      this.#isDrawing = this.#state === 'running' && !this.#connected?.signal.aborted;
      if (!this.#isDrawing) return;
      this.#showTime();
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  }

  #showTime() {
    this.#jumped ||= this.#timer?.jumped ?? false;
    setText(find(this, '[data-hb-time]'), clockText(this.#elapsed));
    const slept = find(this, '[data-hb-slept]');
    setText(slept, this.#jumped ? (slept.dataset.hbText ?? '') : '');
  }

  #show() {
    const state = this.#state;
    this.#showTime();
    if (state === 'running') this.#keepDrawing();
    if (this.dataset.state !== state) {
      this.dataset.state = state;
      setText(find(this, '[data-hb-used-time]'), `${this.#seconds} s`);
      offer(this, BUTTONS, state);
      if (!takerOf(this, this.dataset.hbFor ?? '')) find(this, '[data-hb-use]').hidden = true;
    }
    this.#showRun();
  }

  #showRun() {
    const ahead = this.#ahead;
    const isRunning = this.#state === 'running';
    const told = find(this, '[data-hb-run-told]');
    told.hidden = !ahead;
    setText(find(told, '[data-hb-slot="text"]'), ahead?.text ?? '');
    setText(find(told, '[data-hb-slot="takes"]'), ahead?.takes ?? '');
    const passing = find(this, '[data-hb-passing]');
    passing.hidden = !(ahead && isRunning);
    setText(passing, ahead?.passing ?? '');
    find(this, '[data-hb-stop]').classList.toggle('hb-stopwatch__go--aside', ahead !== null);
  }

  /** @param {string} text */
  #say(text) {
    setText(find(this, '[data-hb-said]'), text);
  }
}
