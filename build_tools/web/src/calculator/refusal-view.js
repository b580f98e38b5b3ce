import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { addRefusalPlaces } from './refusal-places.js';

/** @typedef {import('../protocol/bridge-types.js').Refused} Refused */

/**
 * Says beside each field why it gives no answer. A reader who is still typing is left alone:
 * a field is told of once it was left, a missing one only after the reader asked for the answer.
 */
export class RefusalView {
  /** @type {HTMLFormElement} */ #form;
  /** @type {HTMLElement} */ #summary;
  /** @type {Set<string>} */ #left = new Set();
  /** @type {Refused[]} */ #refused = [];
  #asked = false;

  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.#form = form;
    addRefusalPlaces(form);
    this.#summary = find(form, '[data-hb-summary]');
    this.#summary.addEventListener('click', (event) => this.#jump(event));
  }

  /** The refusals of an answer that the reader asked for outright: all are shown. */
  ask() {
    this.#asked = true;
  }

  /** @param {string} field the reader went on to another field, or paused */
  leave(field) {
    if (this.#left.has(field)) return;
    this.#left.add(field);
    this.#show();
  }

  /** @param {Refused[]} refused none: every message goes */
  show(refused) {
    this.#refused = refused;
    this.#show();
    if (!refused.length) {
      this.#asked = false;
      this.#summary.hidden = true;
    } else if (!this.#summary.hidden) {
      this.#fillSummary();
    }
  }

  /** Starts again: no field was left yet. */
  clear() {
    this.#left.clear();
    this.show([]);
  }

  /** Shows the summary of all messages. */
  showSummary() {
    this.#fillSummary();
    this.#summary.hidden = false;
  }

  focusSummary() {
    this.#summary.focus({ preventScroll: true });
    this.#summary.scrollIntoView({ block: 'start' });
  }

  #show() {
    const shown = new Map(
      this.#refused
        .filter(
          ({ field, kind }) => this.#asked || (kind !== 'missing' && this.#left.has(field ?? '')),
        )
        .map(({ field, message }) => [field, message]),
    );
    for (const slot of this.#form.querySelectorAll('[data-hb-refusal]')) {
      const place = /** @type {HTMLElement} */ (slot);
      const field = place.dataset.hbRefusal ?? '';
      const message = shown.get(field) ?? '';
      setText(place, message);
      this.#showValidity(place, field, message !== '');
    }
  }

  /**
   * @param {HTMLElement} place
   * @param {string} field
   * @param {boolean} wrong
   */
  #showValidity(place, field, wrong) {
    const box = place.closest('[data-hb-cell], [data-hb-field]');
    box?.classList.toggle('hb-field--wrong', wrong);
    for (const control of this.#controls(field)) {
      if (wrong) control.setAttribute('aria-invalid', 'true');
      else control.removeAttribute('aria-invalid');
    }
  }

  #fillSummary() {
    fillList(
      this.#form,
      'refused',
      this.#refused.map(({ message }) => ({ text: message })),
      {
        finish: (node, item) => {
          const refused = this.#refused.find(({ message }) => message === item.text);
          const target = this.#controls(refused?.field ?? '')[0];
          const link = find(node, 'a');
          link.dataset.hbJump = refused?.field ?? '';
          if (target) link.setAttribute('href', `#${target.id}`);
          else link.removeAttribute('href');
        },
      },
    );
  }

  /** @param {Event} event */
  #jump(event) {
    const link = /** @type {Element} */ (event.target).closest('a');
    if (!link) return;
    event.preventDefault();
    const [target] = this.#controls(link.dataset.hbJump ?? '');
    const folded = target?.closest('details');
    if (folded) folded.open = true;
    target?.scrollIntoView({ block: 'center' });
    target?.focus({ preventScroll: true });
  }

  /**
   * The controls of a field, the chosen or first one first.
   *
   * @param {string} field
   * @returns {HTMLElement[]}
   */
  #controls(field) {
    if (!field) return [];
    const named = [...this.#form.querySelectorAll(`[name="${CSS.escape(field)}"]`)];
    const table = this.#form.querySelector(
      `hb-rows[data-hb-field="${CSS.escape(field)}"] fieldset`,
    );
    const chosen = named.filter((control) => control.matches(':checked'));
    const all = [...chosen, ...named, ...(table ? [table] : [])];
    return /** @type {HTMLElement[]} */ (all);
  }
}
