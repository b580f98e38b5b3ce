/** What is written in words: defects, advice, instruments. On paper there are lines for it. */

import { setText } from '../find.js';
import { record } from './record.js';
import { troubleOf, troubleWords } from './trouble.js';

const SAVE_MS = 500;

/** Longest note that is kept. */
export const LONGEST_NOTE = 10_000;

/** @type {WrittenField[]} */
let fields = [];

/** @param {HTMLElement} root */
export function makeWritten(root) {
  const places = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-hb-written]')]);
  fields = places.map((place) => new WrittenField(place));
}

/** What was typed last goes with the page, or with the tablet that is switched off. */
export function startWritten() {
  const saveAll = () => void Promise.all(fields.map((field) => field.save()));
  document.addEventListener('visibilitychange', () => document.hidden && saveAll());
  window.addEventListener('pagehide', saveAll);
}

export function showWritten() {
  for (const field of fields) field.show();
}

class WrittenField {
  #name;
  #label;
  #area = document.createElement('textarea');
  #paper = document.createElement('div');
  #said = document.createElement('p');
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #saving;
  /** @type {string | null} */ #typed = null;

  /** @param {HTMLElement} place */
  constructor(place) {
    this.#name = place.dataset.hbWritten ?? '';
    this.#label = place.dataset.hbLabel ?? '';
    const id = `hb-written-${this.#name}`;
    Object.assign(this.#area, { id, rows: 3, maxLength: LONGEST_NOTE, className: 'hb-written__area' });
    this.#area.setAttribute('aria-describedby', `${id}-help`);
    this.#paper.className = 'hb-written__paper';
    this.#said.className = 'hb-kept';
    this.#said.setAttribute('role', 'status');
    place.append(this.#area, this.#paper, this.#said);
    this.#area.addEventListener('input', () => {
      this.#typed = this.#area.value;
      clearTimeout(this.#saving);
      this.#saving = setTimeout(() => void this.save(), SAVE_MS);
    });
    this.#area.addEventListener('change', () => void this.save());
  }

  show() {
    const entry = record.entry(`note:${this.#name}`);
    const text = entry?.kind === 'note' ? entry.text : '';
    if (this.#typed === null && this.#area.value !== text) this.#area.value = text;
    setText(this.#paper, this.#area.value);
  }

  async save() {
    clearTimeout(this.#saving);
    const text = this.#typed;
    if (text === null) return;
    const key = `note:${this.#name}`;
    const note = { kind: /** @type {const} */ ('note'), name: this.#name, label: this.#label };
    const at = new Date().toISOString();
    try {
      await (text.trim()
        ? record.keep((visit) => [{ visit, key, ...note, text, at }])
        : record.keep(() => [], [key]));
      if (this.#typed === text) this.#typed = null;
      this.#say(text.trim() ? 'Kept' : '', 'kept');
    } catch (error) {
      this.#say(troubleWords(troubleOf(error)), 'trouble');
    }
    this.show();
  }

  /** @param {string} words @param {string} state */
  #say(words, state) {
    this.#said.dataset.state = state;
    setText(this.#said, words);
  }
}
