/**
 * Which fields of a calculator were filled from the visit, and with what. They follow the visit until
 * a person types in them.
 */

import { readSession, sessionKey, writeSession } from '../lib/session-storage.js';
import { cellAt, labelAt } from './taken-readings.js';

/** @typedef {import('../calculator/calculator-element.js').CalculatorElement} Calculator */
/** @typedef {import('./taken-readings.js').Place} Place */
/** @typedef {Place & {value: string, unit: string, cell: string}} Filled the reading, and the field as it was filled */

/** @type {WeakMap<Calculator, Filled[]>} */
const known = new WeakMap();

/** @param {Place} one @param {Place} other */
export const isAt = (one, other) =>
  one.input === other.input && one.row === other.row && one.column === other.column;

/** @param {Calculator} root */
const keyFor = (root) => sessionKey('filled', root);

/** @param {Calculator} root @returns {Filled[]} those that no one has changed since */
export function filledIn(root) {
  if (!known.has(root)) {
    known.set(root, /** @type {Filled[] | null} */ (readSession(keyFor(root))) ?? []);
    root.addEventListener('input', ({ target }) => touched(root, target));
    root.addEventListener('change', ({ target }) => touched(root, target));
  }
  const { inputs } = root;
  const invented = new Set(root.invented);
  // Clear and the example change a field without a key being pressed.
  const still = (known.get(root) ?? []).filter((each) => textAt(inputs, each) === each.cell);
  return invented.size ? still.filter((each) => !invented.has(labelAt(root, each))) : still;
}

/**
 * @param {Calculator} root
 * @param {Omit<Filled, 'cell'>[]} fresh what was just put in
 */
export function rememberFilled(root, fresh) {
  const { inputs } = root;
  const old = filledIn(root).filter((each) => !fresh.some((one) => isAt(one, each)));
  write(root, [...old, ...fresh.map((each) => ({ ...each, cell: textAt(inputs, each) }))]);
}

/** @param {Record<string, import('../protocol/bridge-types.js').Given>} inputs @param {Place} place */
function textAt(inputs, place) {
  const cell = cellAt(inputs, place);
  return cell ? JSON.stringify([cell.value, cell.unit ?? '']) : '';
}

/** @param {Calculator} root @param {EventTarget | null} target what a person changed */
function touched(root, target) {
  if (!(target instanceof Element)) return;
  const field = target.closest('[data-hb-field]');
  const row = target.closest('[data-hb-row]');
  const input = field?.getAttribute('data-hb-field');
  const column = target.closest('[data-hb-cell]')?.getAttribute('data-hb-cell') ?? input;
  const number = row && field ? [...field.querySelectorAll('[data-hb-row]')].indexOf(row) : null;
  const rest = (known.get(root) ?? []).filter(
    (each) => each.input !== input || each.column !== column || each.row !== number,
  );
  write(root, rest);
}

/** @param {Calculator} root @param {Filled[]} all */
function write(root, all) {
  known.set(root, all);
  writeSession(keyFor(root), all.length ? all : null);
}
