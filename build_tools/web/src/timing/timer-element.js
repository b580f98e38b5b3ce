import { storedKey } from '../lib/appliance-key.js';
import { find, setText } from '../lib/find.js';
import { applianceAt, ownerAt } from '../lib/present-visit.js';
import { addressHere } from '../lib/site-url.js';
import { giveReading } from './give-reading.js';
import { minutesText } from './running-time.js';
import { focusNext, offer } from './state-buttons.js';
import { timers } from './timers.js';

const BUTTONS = /** @type {const} */ ({
  ready: ['start'],
  running: ['pause'],
  paused: ['carry-on', 'reset'],
  over: ['reset'],
});

/** @param {Element} element */
function isInView(element) {
  const { top, bottom } = element.getBoundingClientRect();
  return bottom > 0 && top < innerHeight;
}

/** The timer of one step. What it times goes on without it, on any page: see timers.js. */
export class TimerElement extends HTMLElement {
  /** @type {AbortController | null} */ #connected = null;
  #shown = '';

  connectedCallback() {
    this.#connected = new AbortController();
    const { signal } = this.#connected;
    find(this, '[data-hb-timer-body]').hidden = false;
    this.#on('start', () => timers.start(this.#id, this.#about), signal);
    this.#on('carry-on', () => timers.start(this.#id, this.#about), signal);
    this.#on('pause', () => timers.pause(this.#id), signal);
    this.#on('reset', () => timers.clear(this.#id), signal);
    this.querySelector('[data-hb-ask]')?.addEventListener(
      'submit',
      (event) => this.#passOn(event),
      { signal },
    );
    for (const change of ['hb:timers', 'hb:visit'])
      document.addEventListener(change, () => this.#show(), { signal });
    this.#show();
  }

  disconnectedCallback() {
    this.#connected?.abort();
  }

  /** One for each appliance: what runs for one is not shown at the same step of another. */
  get #id() {
    return storedKey(this.dataset.hbTimer ?? '', ownerAt(this));
  }

  get #period() {
    return Number(this.dataset.hbPeriod) * 1000;
  }

  get #about() {
    return {
      name: this.dataset.hbName ?? '',
      where: [applianceAt(this), this.dataset.hbWhere].filter(Boolean).join(', '),
      address: addressHere(this.#step?.id ?? ''),
      period: this.#period,
    };
  }

  get #step() {
    return this.closest('[data-hb-step]');
  }

  /**
   * @param {string} name
   * @param {() => void} act
   * @param {AbortSignal} signal
   */
  #on(name, act, signal) {
    const pressed = () => {
      this.#say('');
      act();
      focusNext(this);
    };
    find(this, `[data-hb-${name}]`).addEventListener('click', pressed, { signal });
  }

  #show() {
    const id = this.#id;
    const isSame = id === this.#shown;
    this.#shown = id;
    const timer = timers.get(id);
    const state = timer?.state ?? 'ready';
    const late = timer?.lateText ?? '';
    setText(find(this, '[data-hb-time]'), timer?.text ?? minutesText(this.#period / 1000));
    setText(find(this, '[data-hb-late]'), late && `Time is up, ${late} ago.`);
    this.toggleAttribute('data-hb-old', timer?.isOld ?? false);
    if (this.dataset.state === state) return;
    const ended = isSame && this.dataset.state === 'running' && state === 'over';
    this.dataset.state = state;
    offer(this, BUTTONS, state);
    for (const part of this.querySelectorAll('[data-hb-at-end]')) {
      /** @type {HTMLElement} */ (part).hidden = state !== 'over';
    }
    if (ended) this.#askForReading();
  }

  /** Leads a reader who is at the step to what is to be read now, unless they type elsewhere. */
  #askForReading() {
    const step = this.#step;
    const { activeElement } = document;
    const inStep = step?.contains(activeElement);
    const typing = activeElement?.matches('input:not([type="checkbox"]), select, textarea');
    const line =
      this.querySelector('[data-hb-ask] input') ?? step?.querySelector('[data-hb-readings]');
    if (!(line instanceof HTMLElement) || !step) return;
    if (!inStep && (typing || !isInView(step))) return;
    line.focus({ preventScroll: true });
    line.scrollIntoView({ block: 'center' });
  }

  /** @param {Event} event */
  #passOn(event) {
    event.preventDefault();
    const inputs = /** @type {NodeListOf<HTMLInputElement>} */ (
      this.querySelectorAll('[data-hb-ask] input')
    );
    const typed = [...inputs].filter((input) => input.value.trim());
    for (const { value, dataset } of typed) {
      giveReading(this, dataset.hbTakes ?? '', value.trim(), dataset.hbUnit ?? '');
    }
    const said = find(this, '[data-hb-said]');
    if (typed.length) this.#say(said.dataset.hbText ?? '');
    else inputs[0]?.focus();
  }

  /** @param {string} text */
  #say(text) {
    setText(find(this, '[data-hb-said]'), text);
  }
}
