/** The cells of one row of a table of readings. */

import { conditionIn } from './condition.js';
import { cell } from './form-reader.js';

/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */

/** @param {ParentNode} row @returns {HTMLElement[]} */
export function cellsOf(row) {
  return /** @type {HTMLElement[]} */ ([...row.querySelectorAll('[data-hb-cell]')]);
}

/** @param {HTMLElement | undefined} place @returns {string} */
function typedIn(place) {
  const control = place?.querySelector('[data-hb-control]');
  return control && 'value' in control ? String(control.value).trim() : '';
}

/**
 * Takes cells out of use that another cell of the row has switched off: a bore is asked for only
 * where the tube is none of those listed.
 *
 * @param {HTMLElement} row
 */
export function useCells(row) {
  const cells = cellsOf(row);
  for (const place of cells) {
    const condition = conditionIn(place.dataset.hbCellWhen);
    if (!condition) continue;
    const owner = cells.find((one) => one.dataset.hbCell === condition.choice);
    place.toggleAttribute('data-hb-unused', !condition.values.includes(typedIn(owner)));
  }
}

/** @param {HTMLElement} place @returns {Cell | undefined} nothing for a cell that does not count */
export function readCell(place) {
  const value = typedIn(place);
  if (!value || place.matches('[data-hb-unused]')) return undefined;
  if (place.dataset.hbKind !== 'quantity') return { value };
  const chosen = place.querySelector('select[data-hb-units]');
  const unit = chosen instanceof HTMLSelectElement ? chosen.value : place.dataset.hbUnit;
  return cell(value, unit);
}
