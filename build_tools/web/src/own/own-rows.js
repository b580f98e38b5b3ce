/** The rows of a table that a reader types: a row more wherever the last one is filled. */

import { cellField, shownCell, typedCell } from './own-cell.js';

const MOST = 40;

export class OwnRows {
  /** @type {HTMLElement} */ #body;
  /** @type {{label: string, unit: string}[]} */ #columns;
  #said = '';

  /** @param {HTMLTableElement} table @param {string} said id of what is told beside it */
  constructor(table, said) {
    this.#said = said;
    this.#columns = [...table.querySelectorAll('th')].map((head) => ({
      label: head.textContent ?? '',
      unit: head.dataset.hbUnit ?? '',
    }));
    this.#body = /** @type {HTMLElement} */ (table.querySelector('[data-hb-own-rows]'));
    for (const [number, row] of this.#rows.entries()) this.#fill(row, number);
    this.#body.dataset.hbLive = '';
    this.#body.addEventListener('input', () => this.#grow());
  }

  get #rows() {
    return /** @type {HTMLTableRowElement[]} */ ([...this.#body.children]);
  }

  /** @param {HTMLTableRowElement} row @param {number} number */
  #fill(row, number) {
    for (const [place, { label }] of this.#columns.entries()) {
      row.cells[place]?.replaceChildren(cellField(`${label}, row ${number + 1}`, this.#said));
    }
  }

  #grow() {
    const rows = this.#rows;
    const isFull = rows.at(-1)?.querySelector('input')?.value.trim() !== '';
    if (isFull && rows.length < MOST) this.#add();
  }

  #add() {
    const row = document.createElement('tr');
    row.append(...this.#columns.map(() => document.createElement('td')));
    this.#fill(row, this.#rows.length);
    this.#body.append(row);
  }

  /** @returns {{rows: string[][]} | null} rows with something in them */
  get typed() {
    const rows = this.#rows
      .map((row) =>
        [...row.querySelectorAll('input')].map((input, place) =>
          typedCell(input, this.#columns[place]?.unit ?? ''),
        ),
      )
      .filter((cells) => cells.some(Boolean));
    return rows.length ? { rows } : null;
  }

  /** @param {{rows?: string[][]} | undefined} figure */
  show(figure) {
    // What is being typed stays as it is.
    if (this.#body.contains(document.activeElement)) return;
    const kept = figure?.rows ?? [];
    while (this.#rows.length <= kept.length && this.#rows.length < MOST) this.#add();
    for (const [number, row] of this.#rows.entries()) {
      for (const [place, input] of [...row.querySelectorAll('input')].entries()) {
        const unit = this.#columns[place]?.unit ?? '';
        input.value = shownCell(kept[number]?.[place] ?? '', unit);
      }
    }
  }
}
