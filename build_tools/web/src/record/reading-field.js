/** A reading to write down, as a field that is kept. Without a script it is a blank line. */

import { readingKey } from '../visit/open-visit.js';
import { whyNot } from '../visit/reading-check.js';
import { fieldText, typedReading } from '../visit/reading-text.js';
import { KeptField } from './kept-field.js';
import { Nudges } from './nudges.js';
import { WordChoice } from './word-choice.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */

let count = 0;

export class ReadingField extends KeptField {
  /** @type {string} */ #name;
  /** @type {string} the unit that stands beside the field */ #unit;
  /** @type {HTMLElement} */ #line;
  /** @type {HTMLInputElement | WordChoice} */ #input;
  /** @type {Nudges | undefined} */ #nudges;

  /** @param {HTMLElement} line with `data-hb-reading` */
  constructor(line) {
    const name = line.dataset.hbReading ?? '';
    count += 1;
    const { hbOptions } = line.dataset;
    const id = `hb-reading-${count}`;
    const input = hbOptions ? choice(line, id, JSON.parse(hbOptions)) : field(id);
    const said = document.createElement('span');
    said.id = `${id}-said`;
    input.setAttribute('aria-describedby', said.id);
    super(readingKey(name), input, said);
    this.#name = name;
    this.#line = line;
    this.#input = input;
    const blank = line.querySelector('.hb-blank');
    this.#unit = blank?.textContent?.trim() ?? '';
    nameField(line, input);
    blank?.classList.add('hb-blank--field');
    blank?.prepend(input);
    if (blank && input instanceof HTMLInputElement && line.closest('[data-hb-step]'))
      this.#nudges = new Nudges(blank, input, name, this.#label);
    line.append(said);
    this.begin();
  }

  /** @override @param {string} text @param {string} at */
  entryOf(text, at) {
    const { value, unit } = typedReading(text, this.#unit);
    const about = { name: this.#name, label: this.#label };
    return value ? { kind: /** @type {const} */ ('reading'), ...about, value, unit, at } : null;
  }

  /** @override @param {Entry | undefined} entry */
  textOf(entry) {
    return entry?.kind === 'reading' ? fieldText(entry, this.#unit) : '';
  }

  /** @override @param {string} text */
  put(text) {
    super.put(text);
    this.#nudges?.update();
  }

  /** @override @param {Entry | undefined} entry */
  held(entry) {
    this.#line.toggleAttribute('data-hb-has', Boolean(entry));
    this.#showCard(entry?.kind === 'reading' ? entry.from_card : '');
  }

  /** @param {string | undefined} from edition and page of the card that filled it */
  #showCard(from) {
    const shown = this.#line.querySelector('.hb-from-card');
    if (!from) shown?.remove();
    if (!from || shown?.textContent === `Your card · ${from}`) return;
    const words = shown ?? document.createElement('span');
    words.className = 'hb-from-card';
    words.textContent = `Your card · ${from}`;
    if (!shown) this.#line.append(words);
  }

  /**
   * Says of what is kept whether it can be used. It stays as it was typed.
   *
   * @override
   * @param {Entry | undefined} entry
   */
  judge(entry) {
    const reading = entry?.kind === 'reading' ? entry : undefined;
    const hasOwnUnit = reading && this.textOf(reading) !== reading.value;
    this.#line.toggleAttribute('data-hb-own-unit', Boolean(hasOwnUnit));
    const why = reading ? whyNot(reading) : '';
    const was = this.#line.hasAttribute('data-hb-unusable');
    this.#line.toggleAttribute('data-hb-unusable', Boolean(why));
    if (why) {
      this.#input.setAttribute('aria-invalid', 'true');
      const kept = 'It is kept as you typed it, and no calculator takes it.';
      this.say(`Not usable. ${why} ${kept}`, 'error');
    } else {
      this.#input.removeAttribute('aria-invalid');
      if (was) this.say('');
    }
    return Boolean(why);
  }

  /** @override @param {boolean} isIn */
  doneWords(isIn) {
    return isIn ? 'Kept' : 'Taken out';
  }

  /** @returns {string} the label alone, without "Write down" */
  get #label() {
    return labelOf(this.#line) || this.#name;
  }
}

/** @param {HTMLElement} line */
const labelOf = (line) => line.querySelector('b')?.textContent ?? '';

/** @param {HTMLElement} line @param {string} id @param {string[]} options */
function choice(line, id, options) {
  const made = /** @type {WordChoice} */ (document.createElement('hb-words'));
  return made.make(id, options, labelOf(line));
}

/**
 * The words before a field name it. A group of words to choose from is no field that a label can
 * name: it points to its words itself.
 *
 * @param {HTMLElement} line
 * @param {HTMLElement} field
 */
function nameField(line, field) {
  const words = line.firstElementChild;
  if (!words) return;
  if (field instanceof WordChoice) {
    words.id = `${field.id}-label`;
    field.setAttribute('aria-labelledby', words.id);
    return;
  }
  const label = document.createElement('label');
  label.htmlFor = field.id;
  label.append(...words.childNodes);
  words.replaceWith(label);
}

/** @param {string} id @returns {HTMLInputElement} */
function field(id) {
  const input = document.createElement('input');
  const given = { id, type: 'text', inputMode: 'decimal', autocomplete: 'off', maxLength: 60 };
  Object.assign(input, given, { className: 'hb-reading-field', spellcheck: false });
  return input;
}
