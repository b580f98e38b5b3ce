/** Cells copied from a spreadsheet: a line for a row, a tab between cells. */

import { cellsOf, useCells } from './row-cells.js';

/** @typedef {import('./rows-element.js').RowsElement} RowsElement */

/** @param {string} text one cell alone is pasted by the browser itself */
export const isTable = (text) => /[\t\n]/.test(text.trimEnd());

/** @param {string} text @returns {string[][]} */
const linesOf = (text) =>
  text
    .trimEnd()
    .split(/\r?\n/)
    .map((line) => line.split('\t').map((cell) => cell.trim()));

/**
 * Writes the pasted cells from the cell at `start` on, to the right and down. Rows are added
 * as needed; cells beyond the last column, or beyond the most rows, are left out.
 *
 * @param {RowsElement} table
 * @param {Element} start
 * @param {string} text
 */
export function pasteInto(table, start, text) {
  const row = start.closest('[data-hb-row]');
  const first = Math.max(
    0,
    table.rows.findIndex((one) => one === row),
  );
  const column = row
    ? Math.max(
        0,
        cellsOf(row).findIndex((one) => one.contains(start)),
      )
    : 0;
  const lines = linesOf(text);
  table.setRows(Math.max(table.rowCount, first + lines.length));
  lines.forEach((line, down) => {
    const filled = table.rows[first + down];
    if (filled) fillRow(filled, column, line);
  });
}

/**
 * A choice may take later cells of its row out of use: those are passed over.
 *
 * @param {HTMLElement} row
 * @param {number} column the first to fill
 * @param {string[]} values
 */
function fillRow(row, column, values) {
  const left = [...values];
  for (const place of cellsOf(row).slice(column)) {
    useCells(row);
    if (place.matches('[data-hb-unused]')) continue;
    const value = left.shift();
    if (value === undefined) return;
    const control = place.querySelector('[data-hb-control]');
    if (control) enter(/** @type {HTMLInputElement | HTMLSelectElement} */ (control), value);
  }
}

/**
 * @param {HTMLInputElement | HTMLSelectElement} control
 * @param {string} text a choice is found by its value or by its label
 */
function enter(control, text) {
  if (control instanceof HTMLInputElement) {
    control.value = text;
    return;
  }
  const wanted = text.toLowerCase();
  const option = [...control.options].find(
    (one) => one.value.toLowerCase() === wanted || one.text.toLowerCase() === wanted,
  );
  if (option) control.value = option.value;
}
