/** A reading to write down, as a field that is kept. Without a script it is a blank line. */

import { setText } from '../find.js';
import { choice, showChoice } from './reading-choice.js';
import { fieldText, typedReading } from './reading-text.js';
import { record } from './record.js';
import { troubleOf, troubleWords } from './trouble.js';

const SAVE_MS = 300; // typing rests this long: kept well within a second

let count = 0;

export class ReadingField {
  /** @type {string} */ #name;
  /** @type {string} */ #unit;
  /** @type {HTMLElement} */ #line;
  /** @type {HTMLInputElement | HTMLSelectElement} */ #input;
  /** @type {HTMLElement} */ #said;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #saving;
  /** What was typed last and is not kept, or is on its way. */
  /** @type {string | null} */ #typed = null;

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
      this.#typed = input.value;
      clearTimeout(this.#saving);
      this.#saving = setTimeout(() => void this.save(), SAVE_MS);
    });
    input.addEventListener('change', () => void this.save());
  }

  /** What the record holds, unless the reader is typing something else. */
  show() {
    const reading = record.reading(this.#name);
    this.#line.toggleAttribute('data-hb-has', Boolean(reading));
    if (this.#typed !== null) return;
    const text = reading ? fieldText(reading, this.#unit) : '';
    this.#line.toggleAttribute('data-hb-own-unit', Boolean(reading && text !== reading.value));
    if (this.#input.value !== text) {
      if (this.#input instanceof HTMLSelectElement) showChoice(this.#input, text);
      else this.#input.value = text;
      this.#say(''); // kept by another field or another window
    }
  }

  /** Keeps what was typed. Where that fails, it stands where it is and the reason beside it. */
  async save() {
    clearTimeout(this.#saving);
    const text = this.#typed;
    if (text === null) return;
    const own = { name: this.#name, label: this.#label, ...typedReading(text, this.#unit) };
    try {
      await record.keepReadings([own]);
      if (this.#typed === text) this.#typed = null;
      this.#say(text.trim() ? 'Kept' : 'Taken out', 'kept');
    } catch (error) {
      // Kept again by itself it would open a visit that nobody asked for.
      if (troubleOf(error) === 'gone') this.#typed = null;
      this.#say(troubleWords(troubleOf(error)), 'trouble');
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
