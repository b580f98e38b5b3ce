import { megabytes, thisEdition } from '../lib/edition.js';
import { OFFLINE } from './offline-words.js';

/** @typedef {import('./offline-words.js').State} State */

/** Shows how this device has the handbook: the panel in the foot of every page. */
export class OfflinePanel {
  #edition = thisEdition();
  #place = document.querySelector('[data-hb-offline]');
  /** @type {(() => void) | null} */ #act = null;

  constructor() {
    this.#part('act')?.addEventListener('click', () => this.#act?.());
  }

  /**
   * @param {State} state
   * @param {{act?: () => void, newer?: string}} [more]
   */
  show(state, { act, newer } = {}) {
    if (!(this.#place instanceof HTMLElement) || !this.#edition) return;
    const { words, act: label } = OFFLINE[state](this.#edition, newer);
    this.#place.hidden = false;
    this.#place.dataset.state = state;
    this.#act = act ?? null;
    this.#fill('words', words);
    this.#fill('act', act ? label : '');
    this.#fill('amount', '');
    const bar = this.#part('bar');
    if (bar) bar.hidden = state !== 'keeping';
    this.#offerZip(state);
  }

  /** @param {number} kept @param {number} bytes */
  progress(kept, bytes) {
    const bar = this.#part('bar');
    if (!(bar instanceof HTMLProgressElement)) return;
    Object.assign(bar, { value: kept, max: bytes });
    this.#fill('amount', `${megabytes(kept)} of ${megabytes(bytes)}`);
  }

  /** @param {State} state */
  #offerZip(state) {
    const link = this.#part('zip');
    const zip = this.#edition?.zip;
    if (!(link instanceof HTMLAnchorElement)) return;
    link.hidden = state !== 'plain' || !zip;
    if (!zip) return;
    link.href = new URL(zip.name, link.href).href;
    link.textContent = `Folder edition, ${megabytes(zip.bytes)}`;
  }

  /** @param {string} name @param {string} [words] nothing hides it */
  #fill(name, words = '') {
    const part = this.#part(name);
    if (!part) return;
    part.hidden = !words;
    if (part.textContent !== words) part.textContent = words;
  }

  /** @param {string} name */
  #part(name) {
    return /** @type {HTMLElement | null} */ (
      this.#place?.querySelector(`[data-hb-offline-${name}]`) ?? null
    );
  }
}
