import { copyTemplate } from '../lib/fill-list.js';
import { find } from '../lib/find.js';
import { isTable, pasteInto } from './pasted-table.js';
import { cellsOf, readCell, useCells } from './row-cells.js';

/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */

/** A table of readings: rows are added, taken out, and pasted from a spreadsheet. */
export class RowsElement extends HTMLElement {
  /** @type {HTMLElement | null} */ #body = null;

  connectedCallback() {
    if (this.#body) return;
    this.#body = find(this, '[data-hb-rows-body]');
    this.setRows(Math.max(1, this.#low)); // a table that may be empty still shows where to type
    this.addEventListener('input', () => this.rows.forEach(useCells));
    this.addEventListener('click', (event) => this.#clicked(event));
    this.addEventListener('paste', (event) => this.#pasted(event));
  }

  get #low() {
    return Number(this.dataset.hbLow ?? 1);
  }

  get #high() {
    return Number(this.dataset.hbHigh ?? 60);
  }

  /** @returns {HTMLElement[]} */
  get rows() {
    return /** @type {HTMLElement[]} */ ([...(this.#body?.children ?? [])]);
  }

  get rowCount() {
    return this.rows.length;
  }

  /** @param {number} count as many rows as that, within what the calculator accepts */
  setRows(count) {
    const wanted = Math.max(this.#low, Math.min(count, this.#high));
    for (const row of this.rows.slice(wanted)) row.remove();
    while (this.rowCount < wanted) this.#body?.append(copyTemplate(this, 'row'));
    this.#renumber();
  }

  /** @returns {Record<string, Cell>[]} each row by column, without its empty cells */
  read() {
    return this.rows.map((row) => {
      useCells(row);
      const filled = cellsOf(row).map((place) => [place.dataset.hbCell, readCell(place)]);
      return Object.fromEntries(filled.filter(([, value]) => value));
    });
  }

  /** Gives every control its name, its id and a label with the number of its row. */
  #renumber() {
    this.rows.forEach((row, number) => {
      useCells(row);
      find(row, '[data-hb-row-number]').textContent = String(number + 1);
      find(row, '[data-hb-remove]').setAttribute('aria-label', `Remove row ${number + 1}`);
      for (const place of cellsOf(row)) this.#nameCell(place, number);
    });
    const add = /** @type {HTMLButtonElement} */ (find(this, '[data-hb-add]'));
    add.disabled = this.rowCount >= this.#high;
  }

  /**
   * @param {HTMLElement} place
   * @param {number} number
   */
  #nameCell(place, number) {
    const name = `${this.dataset.hbField}[${number}].${place.dataset.hbCell}`;
    const id = `${this.querySelector('fieldset')?.id}-${number}-${place.dataset.hbCell}`;
    const label = `${place.dataset.hbLabel}, row ${number + 1}`;
    const refusal = find(place, '[data-hb-refusal]');
    refusal.dataset.hbRefusal = name;
    refusal.id = `${id}-refusal`;
    for (const found of place.querySelectorAll('[data-hb-control]')) {
      const control = /** @type {HTMLInputElement} */ (found);
      const part = control.dataset.hbControl;
      control.name = name + part;
      control.id = id + (part ? '-unit' : '');
      control.setAttribute('aria-label', part ? `Unit of: ${label}` : label);
      control.setAttribute('aria-describedby', refusal.id);
    }
  }

  /** @param {Event} event */
  #clicked(event) {
    const button = /** @type {Element} */ (event.target).closest('button');
    if (button?.matches('[data-hb-add]')) {
      this.setRows(this.rowCount + 1);
      const control = this.rows.at(-1)?.querySelector('[data-hb-control]');
      /** @type {HTMLElement | null | undefined} */ (control)?.focus();
      this.#changed();
    } else if (button?.matches('[data-hb-remove]')) {
      this.#remove(button);
    }
  }

  /** @param {Element} button */
  #remove(button) {
    const row = button.closest('[data-hb-row]');
    const number = this.rows.findIndex((one) => one === row);
    row?.remove();
    this.setRows(this.rowCount);
    const next = this.rows[Math.min(number, this.rowCount - 1)];
    /** @type {HTMLElement | undefined} */ (next && find(next, '[data-hb-remove]'))?.focus();
    this.#changed();
  }

  /** @param {ClipboardEvent} event */
  #pasted(event) {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    if (!isTable(text)) return;
    event.preventDefault();
    pasteInto(this, /** @type {Element} */ (event.target), text);
    this.#changed();
  }

  /** Tells the calculator, as a keystroke would. */
  #changed() {
    this.dispatchEvent(new Event('input', { bubbles: true }));
  }
}
