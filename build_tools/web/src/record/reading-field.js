/** A reading to write down, as a field that is kept. Without a script it is a blank line. */

import { setText } from '../lib/find.js';
import { openVisit, readingKey } from '../visit/open-visit.js';
import { pending } from '../visit/pending.js';
import { whyNot } from '../visit/reading-check.js';
import { fieldText, typedReading } from '../visit/reading-text.js';
import {
  LOST_WORDS,
  NEVER_KEPT,
  PageLeft,
  storageErrorOf,
  storageErrorWords,
} from '../visit/storage-error.js';
import { choice, showChoice } from './reading-choice.js';

/** @typedef {import('../visit/visit-types.js').Typed} Typed */

const SAVE_MS = 300; // typing rests this long: kept well within a second

let count = 0;

export class ReadingField {
  /** @type {string} */ #name;
  /** @type {string} */ #unit;
  /** @type {HTMLElement} */ #line;
  /** @type {HTMLInputElement | HTMLSelectElement} */ #input;
  /** @type {HTMLElement} */ #said;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #saving;
  #isLost = false;
  /** @type {Typed | null} what was typed last and is not kept, or is on its way */ #typed = null;

  /** @param {HTMLElement} line with `data-hb-reading` */
  constructor(line) {
    this.#line = line;
    this.#name = line.dataset.hbReading ?? '';
    const blank = line.querySelector('.hb-blank');
    this.#unit = blank?.textContent?.trim() ?? '';
    count += 1;
    const { hbOptions } = line.dataset;
    const id = `hb-reading-${count}`;
    this.#input = hbOptions ? choice(id, JSON.parse(hbOptions)) : field(id);
    this.#said = said(`hb-reading-${count}-said`);
    this.#input.setAttribute('aria-describedby', this.#said.id);
    const label = document.createElement('label');
    label.htmlFor = this.#input.id;
    label.append(...(line.firstElementChild?.childNodes ?? []));
    line.firstElementChild?.replaceWith(label);
    blank?.classList.add('hb-blank--field');
    blank?.prepend(this.#input);
    line.append(this.#said);
    this.#listen();
    this.show();
  }

  get isThere() {
    return this.#line.isConnected;
  }

  #listen() {
    const input = this.#input;
    input.addEventListener('input', () => {
      this.#typed = this.#read();
      clearTimeout(this.#saving);
      // Where it can't be written down for a page that goes, it is kept without waiting.
      const wait = pending.note(this.#typed) ? SAVE_MS : 0;
      this.#saving = setTimeout(() => void this.save(), wait);
    });
    input.addEventListener('change', () => void this.save());
  }

  /** @returns {Typed} */
  #read() {
    const key = readingKey(this.#name);
    const at = openVisit.momentFor(key);
    const { value, unit } = typedReading(this.#input.value, this.#unit);
    const reading = {
      kind: /** @type {const} */ ('reading'),
      name: this.#name,
      label: this.#label,
    };
    const entry = value ? { ...reading, value, unit, at } : null;
    return { visit: openVisit.visit?.id ?? null, key, at, entry };
  }

  /** What the record holds, unless the reader is typing something else. */
  show() {
    const reading = openVisit.reading(this.#name);
    this.#line.toggleAttribute('data-hb-has', Boolean(reading));
    if (this.#typed !== null) return;
    if (openVisit.isLost && this.#input.value) {
      this.#say(LOST_WORDS, 'error');
      this.#isLost = true;
    }
    if (this.#isLost && !reading) return; // the only place where it still stands
    this.#isLost = false;
    const text = reading ? fieldText(reading, this.#unit) : '';
    this.#line.toggleAttribute('data-hb-own-unit', Boolean(reading && text !== reading.value));
    if (this.#input.value !== text) {
      if (this.#input instanceof HTMLSelectElement) showChoice(this.#input, text);
      else this.#input.value = text;
      this.#say(''); // kept by another field or another window
    }
    this.#judge();
  }

  /**
   * Says of what is kept whether it can be used. It stays as it was typed.
   *
   * @returns {boolean} whether anything was said
   */
  #judge() {
    const reading = openVisit.reading(this.#name);
    const why = reading ? whyNot(reading) : '';
    const was = this.#line.hasAttribute('data-hb-unusable');
    this.#line.toggleAttribute('data-hb-unusable', Boolean(why));
    if (why) {
      this.#input.setAttribute('aria-invalid', 'true');
      this.#say(
        `Not usable. ${why} It is kept as you typed it, and no calculator takes it.`,
        'error',
      );
    } else {
      this.#input.removeAttribute('aria-invalid');
      if (was) this.#say('');
    }
    return Boolean(why);
  }

  /** Keeps what was typed. Where that fails, it stands where it is and the reason beside it. */
  async save() {
    clearTimeout(this.#saving);
    const typed = this.#typed;
    if (typed === null) return;
    const { entry, at } = typed;
    const { value, unit } = entry?.kind === 'reading' ? entry : { value: '', unit: '' };
    try {
      await openVisit.keepReadings([{ name: this.#name, label: this.#label, value, unit, at }]);
      pending.settle(typed);
      if (this.#typed === typed) this.#typed = null;
      this.#isLost = false;
      // WebKit empties a field without autocomplete when Back brings its page again.
      if (entry && !this.#input.value) this.show();
      if (!this.#judge()) this.#say(typed.entry ? 'Kept' : 'Taken out', 'kept');
    } catch (error) {
      if (error instanceof PageLeft) return;
      const storageError = storageErrorOf(error);
      // Kept again by itself it would open a visit that nobody asked for.
      if (storageError === 'gone') this.#typed = null;
      if (NEVER_KEPT.has(storageError)) pending.settle(typed);
      this.#say(storageErrorWords(storageError), 'error');
    }
  }

  /** @returns {string} the label alone, without "Write down" */
  get #label() {
    return this.#line.querySelector('b')?.textContent ?? this.#name;
  }

  /**
   * @param {string} words
   * @param {string} [state]
   */
  #say(words, state = '') {
    this.#said.dataset.state = state;
    setText(this.#said, words);
  }
}

/** @param {string} id @returns {HTMLInputElement} */
function field(id) {
  const input = document.createElement('input');
  const given = { id, type: 'text', inputMode: 'decimal', autocomplete: 'off', maxLength: 60 };
  Object.assign(input, given, { className: 'hb-reading-field', spellcheck: false });
  return input;
}

/** @param {string} id @returns {HTMLElement} */
function said(id) {
  const words = document.createElement('span');
  words.id = id;
  words.className = 'hb-kept';
  words.setAttribute('role', 'status');
  return words;
}
