import { writtenDay } from '../lib/written-day.js';

/** @typedef {import('../protocol/bridge-types.js').Answer} Answer */
/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {import('../protocol/bridge-types.js').Item} Item */

/** Digits and what may stand between them. Anything else carries a unit, or is a slip. */
const NUMBER_ALONE = /^[\s\p{Nd}.,'’+\-−]*(?:[eE][+\-−]?\p{Nd}+)?\s*$/u;

/**
 * A number with the unit that is chosen beside it, or a text that brings its own unit.
 *
 * @param {string} value
 * @param {string | undefined} unit
 * @returns {Cell}
 */
export function cell(value, unit) {
  return unit !== undefined && NUMBER_ALONE.test(value) ? { value, unit } : { value };
}

/** Reads a form into the inputs of a request. Hidden and empty fields are left out. */
export class FormReader {
  /** @type {HTMLFormElement} */ #form;
  /** @type {HTMLElement[]} */ #fields;

  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.#form = form;
    this.#fields = [...form.querySelectorAll('[data-hb-field]')].map(
      (field) => /** @type {HTMLElement} */ (field),
    );
  }

  /** @returns {Record<string, Given>} */
  read() {
    /** @type {Record<string, Given>} */
    const inputs = {};
    for (const field of this.#fields) {
      const name = field.dataset.hbField ?? '';
      if (field.hidden) continue;
      if (field.dataset.hbKind === 'rows') {
        const table = /** @type {import('./rows-element.js').RowsElement} */ (field);
        inputs[name] = { rows: table.read() };
      } else {
        const value = this.#value(name);
        if (value) inputs[name] = cell(value, this.#unit(field, name));
      }
    }
    return inputs;
  }

  /** Whether the form is as the page brought it, whatever unit is chosen. */
  get isBlank() {
    return [...this.#form.elements].every((element) => {
      if (element instanceof HTMLSelectElement) {
        return element.matches('[data-hb-units]') || !element.value || isDefault(element);
      }
      if (!(element instanceof HTMLInputElement)) return true;
      if (element.type === 'radio') return element.checked === element.defaultChecked;
      return element.value.trim() === '';
    });
  }

  /** @param {string} name */
  labelOf(name) {
    return this.#field(name)?.querySelector('[data-hb-label]')?.textContent ?? name;
  }

  /**
   * What an answer was worked out from, each reading with the label that the reader sees. A table
   * gives a line for each of its rows.
   *
   * @param {Answer['inputs']} inputs
   * @returns {Item[]}
   */
  given(inputs) {
    return Object.entries(inputs).flatMap(([name, { text, rows = [] }]) => {
      const label = this.labelOf(name);
      if (text) return [{ label, text: shownText(this.#field(name), text) }];
      return rows.map((row, number) => ({
        label: `${label}, row ${number + 1}`,
        text: this.#rowText(name, row),
      }));
    });
  }

  /**
   * @param {string} table
   * @param {Record<string, { text?: string }>} row
   */
  #rowText(table, row) {
    const cells = Object.entries(row).map(([column, { text = '' }]) => {
      const place = `[data-hb-cell="${CSS.escape(column)}"]`;
      const cell = /** @type {HTMLElement | null} */ (this.#field(table)?.querySelector(place));
      return `${cell?.dataset.hbLabel ?? column} ${shownText(cell, text)}`;
    });
    return cells.join('; ');
  }

  /** @param {string} name */
  #field(name) {
    return this.#form.querySelector(`[data-hb-field="${CSS.escape(name)}"]`);
  }

  /** @param {string} name */
  #value(name) {
    const control = this.#form.elements.namedItem(name);
    return control && 'value' in control ? String(control.value).trim() : '';
  }

  /**
   * @param {HTMLElement} field
   * @param {string} name
   */
  #unit(field, name) {
    if (field.dataset.hbKind !== 'quantity') return undefined;
    return this.#value(`${name}.unit`) || field.dataset.hbUnit;
  }
}

/**
 * The words of an option, a day as people write it, or the text as it is.
 *
 * @param {Element | null} field
 * @param {string} text
 */
function shownText(field, text) {
  const chosen = field?.querySelector(`[value="${CSS.escape(text)}"]`);
  const words = chosen instanceof HTMLInputElement ? chosen.labels?.[0] : chosen;
  return words?.textContent ?? writtenDay(text);
}

/** @param {HTMLSelectElement} select */
function isDefault(select) {
  const options = [...select.options];
  const standard = options.findIndex((option) => option.defaultSelected);
  return select.selectedIndex === Math.max(0, standard);
}
