/** A reading to write down, as a field that is kept. Without a script it is a blank line. */

import { readingKey } from '../visit/open-visit.js';
import { whyNot } from '../visit/reading-check.js';
import { fieldText, typedReading } from '../visit/reading-text.js';
import { KeptField } from './kept-field.js';
import { Nudges } from './nudges.js';
import { choice, showChoice } from './reading-choice.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */

let count = 0;

export class ReadingField extends KeptField {
  /** @type {string} */ #name;
  /** @type {string} the unit that stands beside the field */ #unit;
  /** @type {HTMLElement} */ #line;
  /** @type {HTMLInputElement | HTMLSelectElement} */ #input;
  /** @type {Nudges | undefined} */ #nudges;

  /** @param {HTMLElement} line with `data-hb-reading` */
  constructor(line) {
    const name = line.dataset.hbReading ?? '';
    count += 1;
    const { hbOptions } = line.dataset;
    const id = `hb-reading-${count}`;
    const input = hbOptions ? choice(id, JSON.parse(hbOptions)) : field(id);
    const said = document.createElement('span');
    said.id = `${id}-said`;
    input.setAttribute('aria-describedby', said.id);
    super(readingKey(name), input, said);
    this.#name = name;
    this.#line = line;
    this.#input = input;
    const blank = line.querySelector('.hb-blank');
    this.#unit = blank?.textContent?.trim() ?? '';
    const label = document.createElement('label');
    label.htmlFor = input.id;
    label.append(...(line.firstElementChild?.childNodes ?? []));
    line.firstElementChild?.replaceWith(label);
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
    if (this.#input instanceof HTMLSelectElement) showChoice(this.#input, text);
    else super.put(text);
    this.#nudges?.update();
  }

  /** @override @param {Entry | undefined} entry */
  held(entry) {
    this.#line.toggleAttribute('data-hb-has', Boolean(entry));
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
    return this.#line.querySelector('b')?.textContent ?? this.#name;
  }
}

/** @param {string} id @returns {HTMLInputElement} */
function field(id) {
  const input = document.createElement('input');
  const given = { id, type: 'text', inputMode: 'decimal', autocomplete: 'off', maxLength: 60 };
  Object.assign(input, given, { className: 'hb-reading-field', spellcheck: false });
  return input;
}
