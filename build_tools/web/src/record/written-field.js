/** What is written in words: defects, advice, instruments. On paper there are lines for it. */

import { setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { pending } from '../visit/pending.js';
import { plainLine, plainText } from '../visit/plain-text.js';
import {
  LOST_WORDS,
  NEVER_KEPT,
  PageLeft,
  storageErrorOf,
  storageErrorWords,
} from '../visit/storage-error.js';

/** @typedef {import('../visit/visit-types.js').Typed} Typed */

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
  window.addEventListener('pageshow', ({ persisted }) => persisted && saveAll());
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
  /** @type {Typed | null} */ #typed = null;
  #isLost = false;

  /** @param {HTMLElement} place */
  constructor(place) {
    this.#name = place.dataset.hbWritten ?? '';
    this.#label = place.dataset.hbLabel ?? '';
    const id = `hb-written-${this.#name}`;
    Object.assign(this.#area, {
      id,
      rows: 3,
      maxLength: LONGEST_NOTE,
      className: 'hb-written__area',
    });
    this.#area.setAttribute('aria-describedby', `${id}-help`);
    this.#paper.className = 'hb-written__paper';
    this.#said.className = 'hb-kept';
    this.#said.setAttribute('role', 'status');
    place.append(this.#area, this.#paper, this.#said);
    this.#area.addEventListener('input', () => {
      this.#typed = this.#read();
      clearTimeout(this.#saving);
      const wait = pending.note(this.#typed) ? SAVE_MS : 0;
      this.#saving = setTimeout(() => void this.save(), wait);
    });
    this.#area.addEventListener('change', () => void this.save());
  }

  /** @returns {Typed} */
  #read() {
    const key = `note:${this.#name}`;
    const at = openVisit.momentFor(key);
    const text = plainText(this.#area.value);
    const note = {
      kind: /** @type {const} */ ('note'),
      name: this.#name,
      label: this.#label,
      text,
      at,
    };
    return { visit: openVisit.visit?.id ?? null, key, at, entry: plainLine(text) ? note : null };
  }

  show() {
    const entry = openVisit.entry(`note:${this.#name}`);
    const text = entry?.kind === 'note' ? entry.text : '';
    if (openVisit.isLost && this.#area.value && this.#typed === null) {
      this.#say(LOST_WORDS, 'error');
      this.#isLost = true;
    }
    if (text) this.#isLost = false;
    const isShown = this.#typed === null && !this.#isLost;
    if (isShown && this.#area.value !== text) this.#area.value = text;
    setText(this.#paper, this.#area.value);
  }

  async save() {
    clearTimeout(this.#saving);
    const typed = this.#typed;
    if (typed === null) return;
    const { key, entry } = typed;
    try {
      await (entry
        ? openVisit.keep((visit) => [{ visit, key, ...entry }])
        : openVisit.keep(() => [], [key]));
      pending.settle(typed);
      if (this.#typed === typed) this.#typed = null;
      this.#isLost = false;
      this.#say(entry ? 'Kept' : '', 'kept');
    } catch (error) {
      if (error instanceof PageLeft) return;
      const storageError = storageErrorOf(error);
      if (NEVER_KEPT.has(storageError)) pending.settle(typed);
      this.#say(storageErrorWords(storageError), 'error');
    }
    this.show();
  }

  /** @param {string} words @param {string} state */
  #say(words, state) {
    this.#said.dataset.state = state;
    setText(this.#said, words);
  }
}
