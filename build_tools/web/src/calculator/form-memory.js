import { readSession, sessionKey, writeSession } from '../lib/session-storage.js';

/** @typedef {HTMLInputElement | HTMLSelectElement} Control */
/** @typedef {{values?: Record<string, string>, rows?: Record<string, number>, invented?: string[]}} Kept */

/**
 * @param {HTMLFormElement} form
 * @returns {Control[]}
 */
function controlsOf(form) {
  const named = [...form.elements].filter((element) => /** @type {Control} */ (element).name);
  return /** @type {Control[]} */ (named);
}

/**
 * Keeps what the reader typed through a reload, back and forward. The unit of this memory is
 * one calculator on one page.
 */
export class FormMemory {
  /** @type {HTMLFormElement} */ #form;
  /** @type {string} */ #key;
  /** @type {import('./invented-figures.js').InventedFigures} */ #invented;

  /**
   * @param {HTMLFormElement} form
   * @param {Element} calculator
   * @param {import('./invented-figures.js').InventedFigures} invented
   */
  constructor(form, calculator, invented) {
    this.#form = form;
    this.#invented = invented;
    this.#key = sessionKey('form', calculator);
  }

  save() {
    /** @type {Record<string, string>} */
    const values = {};
    for (const control of controlsOf(this.#form)) {
      const isRadio = control.type === 'radio';
      if (!isRadio || /** @type {HTMLInputElement} */ (control).checked) {
        values[control.name] = control.value;
      }
    }
    writeSession(this.#key, { values, rows: this.#rowCounts(), invented: this.#invented.names });
  }

  /** @returns {boolean} whether there was something to put back */
  restore() {
    const kept = /** @type {Kept | null} */ (readSession(this.#key));
    if (!kept?.values) return false;
    this.fill(kept.values, kept.rows ?? {});
    this.#invented.names = kept.invented ?? [];
    return true;
  }

  forget() {
    writeSession(this.#key, null);
  }

  /**
   * @param {Record<string, string>} values by the name of the control
   * @param {Record<string, number>} [rows] how many rows each table of rows has
   */
  fill(values, rows = {}) {
    for (const table of this.#tables()) {
      const count = rows[table.dataset.hbField ?? ''];
      if (count !== undefined) table.setRows(count);
    }
    for (const control of controlsOf(this.#form)) {
      const value = values[control.name];
      if (value === undefined) continue;
      if (control.type === 'radio') {
        /** @type {HTMLInputElement} */ (control).checked = control.value === value;
      } else {
        control.value = value;
      }
    }
    this.#openFilled();
  }

  /** What counts must be seen: a fold that holds something filled is opened. */
  #openFilled() {
    for (const fold of this.#form.querySelectorAll('[data-hb-more]')) {
      const fields = fold.querySelectorAll('input:not([type=radio])');
      const filled = [...fields].some((field) => /** @type {HTMLInputElement} */ (field).value);
      if (filled) /** @type {HTMLDetailsElement} */ (fold).open = true;
    }
  }

  #tables() {
    const tables = [...this.#form.querySelectorAll('hb-rows')];
    return /** @type {import('./rows-element.js').RowsElement[]} */ (tables);
  }

  #rowCounts() {
    return Object.fromEntries(
      this.#tables().map((table) => [table.dataset.hbField ?? '', table.rowCount]),
    );
  }
}
