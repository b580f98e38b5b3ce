import { thisEdition } from '../lib/edition.js';
import { OfflinePanel } from './offline-panel.js';

/** The page and its calculators come first; then the copy for later. */
const AFTER_LOAD_MS = 2500;
const LOOK_AGAIN_MS = 3_600_000;
/** A browser ends a service worker that is at one message for five minutes. */
const LONGEST_ANSWER_MS = 330_000;
/** What Workbox keeps a site under is this and the site's address. */
const PRECACHE = 'workbox-precache-v2-';

/** @typedef {{kept: number, bytes: number, failed?: string}} Found what of the edition is kept */
/** @type {Found} */ const NOTHING_FOUND = { kept: 0, bytes: 1 };

const scriptUrl = /** @type {HTMLScriptElement | null} */ (document.currentScript)?.src ?? '';

/** Keeps the whole edition on this device where that can be, and says how that stands. */
export function startOffline() {
  const edition = thisEdition();
  if (!edition) return;
  const panel = new OfflinePanel();
  if (edition.kind === 'draft') panel.show('draft');
  else if (edition.kind === 'folder') panel.show(remembers() ? 'folder' : 'forgets');
  else if (!isSecureContext) panel.show('plain');
  else if (!('serviceWorker' in navigator)) panel.show('blocked');
  else new Keeper(panel).start();
}

class Keeper {
  #panel;
  #container = navigator.serviceWorker;
  #had = Boolean(navigator.serviceWorker.controller);
  /** @type {ServiceWorkerRegistration | null} */ #registration = null;
  #looked = Date.now();
  /** @type {Promise<unknown> | null} */ #held = null;
  /** @type {'' | 'runs' | 'again'} of counts: one runs, or one more was asked for meanwhile */
  #counting = '';
  /** Whether this page has asked for a count at all. */ #counted = false;

  /** @param {OfflinePanel} panel */
  constructor(panel) {
    this.#panel = panel;
  }

  start() {
    this.#container.addEventListener('message', ({ data }) => this.#heard(data?.hb ?? {}));
    this.#container.addEventListener('controllerchange', () => {
      // Old pages and new files must never meet. The forms keep what was typed.
      if (this.#had) location.reload();
      this.#had = true;
      void this.#count();
    });
    if (this.#had) void this.#count();
    window.addEventListener('online', () => void this.#look());
    document.addEventListener('visibilitychange', () => {
      const due = Date.now() - this.#looked > LOOK_AGAIN_MS;
      if (document.visibilityState === 'visible' && due) void this.#look();
    });
    const saves = /** @type {any} */ (navigator).connection?.saveData === true;
    if (saves && !this.#had) this.#panel.show('offered', { act: () => void this.#keep() });
    else afterLoad(() => void this.#keep());
  }

  async #keep() {
    try {
      const address = new URL('../../service-worker.js', scriptUrl);
      // WebKit forgets what a worker has kept that failed, unless somebody else has it open.
      this.#held ??= caches.open(`${PRECACHE}${new URL('.', address).href}`).catch(() => null);
      await this.#held;
      this.#registration = (await this.#container.register(address)) ?? null;
      if (!this.#registration) return this.#panel.show('blocked');
      this.#follow(this.#registration);
    } catch (error) {
      // Without a network the script can't be looked at; that says nothing of the copy.
      const cut = error instanceof TypeError;
      if (!this.#had) this.#panel.show(cut ? 'interrupted' : 'blocked', this.#again());
    }
  }

  /** @param {ServiceWorkerRegistration} registration */
  #follow(registration) {
    const follow = (/** @type {ServiceWorker} */ worker) => {
      if (!this.#had) this.#panel.show('keeping');
      worker.addEventListener('statechange', () => {
        if (worker.state === 'installed' && this.#had) void this.#offer(worker);
        if (worker.state === 'redundant' && !this.#had) this.#failed('');
      });
    };
    registration.addEventListener('updatefound', () => {
      if (registration.installing) follow(registration.installing);
    });
    if (registration.installing) follow(registration.installing);
    else if (registration.waiting && this.#had) void this.#offer(registration.waiting);
    else if (registration.active) {
      this.#had = true; // also on a page that was loaded past it
      // What was counted at the start is not counted again under the reader's finger.
      if (!this.#counted) void this.#count(registration.active);
    }
  }

  /**
   * Says that the handbook is kept once the worker has looked. What a browser has dropped meanwhile
   * is fetched again.
   *
   * One count runs at a time. One that is asked for meanwhile comes after it, and only then is it
   * told how things stand: a button that is offered stays until it is pressed.
   *
   * @param {ServiceWorker | null} [worker]
   */
  async #count(worker = this.#container.controller) {
    if (!worker) return;
    this.#counted = true;
    const isFirst = this.#counting === '';
    this.#counting = isFirst ? 'runs' : 'again';
    if (!isFirst) return;
    /** @type {Found} */ let found;
    do {
      this.#counting = 'runs';
      found = await this.#completed(worker);
    } while (/** @type {string} */ (this.#counting) === 'again');
    this.#counting = '';
    if (this.#registration?.waiting) return; // the panel offers the newer edition
    const state = found.failed === 'QuotaExceededError' ? 'full' : 'interrupted';
    if (found.kept === found.bytes) this.#panel.show('kept');
    else this.#panel.show(state, { act: () => void this.#count() });
  }

  /**
   * @param {ServiceWorker} worker
   * @returns {Promise<Found>} what is kept, after what was missing was fetched
   */
  async #completed(worker) {
    const found = await ask(worker, 'hb:count', NOTHING_FOUND);
    if (found.kept >= found.bytes) return found;
    this.#panel.show('keeping');
    this.#panel.progress(found.kept, found.bytes);
    return ask(worker, 'hb:complete', NOTHING_FOUND);
  }

  /** @param {{keeping?: {kept: number, bytes: number}, failed?: string}} message */
  #heard({ keeping, failed }) {
    if (this.#had) return; // a newer edition comes in while this one is whole
    if (keeping) this.#panel.progress(keeping.kept, keeping.bytes);
    if (failed) this.#failed(failed);
  }

  #lastFailure = '';

  /** @param {string} name of the error; nothing when the browser only says that it ended */
  #failed(name) {
    this.#lastFailure = name || this.#lastFailure;
    const full = this.#lastFailure === 'QuotaExceededError';
    this.#panel.show(full ? 'full' : 'interrupted', this.#again());
  }

  #again() {
    return { act: () => void this.#look() };
  }

  async #look() {
    this.#looked = Date.now();
    this.#lastFailure = '';
    if (!this.#had) return this.#keep();
    void this.#count();
    await this.#registration?.update().catch(() => {}); // no network: the copy stays as it is
  }

  /** @param {ServiceWorker} worker a newer edition, whole and waiting */
  async #offer(worker) {
    const { edition } = await ask(worker, 'hb:edition', { edition: '' });
    const act = () => worker.postMessage('hb:take-over');
    this.#panel.show('newer', { newer: edition, act });
  }
}

/**
 * @template T
 * @param {ServiceWorker} worker
 * @param {string} question
 * @param {T} silence what stands for the answer of a worker that was ended over it
 * @returns {Promise<T>} what service-worker.js answers to it
 */
function ask(worker, question, silence) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(() => resolve(silence), LONGEST_ANSWER_MS);
    worker.postMessage(question, [port2]);
  });
}

/** @returns {boolean} whether this browser keeps anything for a page from a folder */
function remembers() {
  try {
    localStorage.setItem('hb:probe', '1');
    localStorage.removeItem('hb:probe');
    return true;
  } catch {
    return false;
  }
}

/** @param {() => void} act */
function afterLoad(act) {
  const later = () => setTimeout(act, AFTER_LOAD_MS);
  if (document.readyState === 'complete') later();
  else window.addEventListener('load', later);
}
