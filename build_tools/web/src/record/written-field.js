/** What is written in words: defects, advice, instruments. On paper there are lines for it. */

import { setText } from '../lib/find.js';
import { plainLine, plainText } from '../visit/plain-text.js';
import { KeptField } from './kept-field.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */

/** Longest note that is kept. */
const LONGEST_NOTE = 10_000;

export class WrittenField extends KeptField {
  /** @type {string} */ #name;
  /** @type {string} */ #label;
  /** @type {HTMLTextAreaElement | HTMLInputElement} */ #area;
  /** @type {HTMLElement} */ #paper;

  /** @param {HTMLElement} place with `data-hb-written` */
  constructor(place) {
    const { hbWritten: name = '', hbLabel: label = '' } = place.dataset;
    const id = `hb-written-${name}`;
    const area = place.hasAttribute('data-hb-day') ? dayField() : textArea();
    Object.assign(area, { id, className: 'hb-written__area' });
    area.setAttribute('aria-describedby', `${id}-help`);
    const [paper, said] = [document.createElement('div'), document.createElement('p')];
    paper.className = 'hb-written__paper';
    super(`note:${name}`, area, said);
    this.#name = name;
    this.#label = label;
    this.#area = area;
    this.#paper = paper;
    place.append(area, paper, said);
    this.begin();
  }

  /** @override @param {string} typed @param {string} at */
  entryOf(typed, at) {
    const text = plainText(typed);
    const about = { name: this.#name, label: this.#label };
    return plainLine(text) ? { kind: /** @type {const} */ ('note'), ...about, text, at } : null;
  }

  /** @override @param {Entry | undefined} entry */
  textOf(entry) {
    return entry?.kind === 'note' ? entry.text : '';
  }

  /** @override */
  held() {
    setText(this.#paper, this.#area.value);
  }
}

function textArea() {
  return Object.assign(document.createElement('textarea'), { rows: 3, maxLength: LONGEST_NOTE });
}

/** A day is kept as `2026-03-01`. */
function dayField() {
  return Object.assign(document.createElement('input'), { type: 'date', autocomplete: 'off' });
}
