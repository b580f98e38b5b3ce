/** Puts into a calculator what the open visit holds. */

import { conditionIn } from '../calculator/condition.js';
import { openVisit } from '../visit/open-visit.js';
import { filledIn, isAt, rememberFilled } from './from-visit.js';
import { cellAt, labelAt, onBasis, placesOf } from './taken-readings.js';

/** @typedef {import('../calculator/calculator-element.js').CalculatorElement} Calculator */
/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {import('./taken-readings.js').Place} Place */

/** @param {Calculator} root @returns {boolean} whether the visit holds anything that it takes */
export const canFill = (root) => placesOf(root).some(({ name }) => openVisit.usable(name));

/**
 * Fills what is empty or invented. What the reader typed stays.
 *
 * @param {Calculator} root
 * @returns {string} what was done, for the reader
 */
export function fillFromVisit(root) {
  const { inputs } = root;
  const invented = new Set(root.invented);
  const before = filledIn(root);
  /** @type {Record<string, Given>} */
  const given = {};
  /** @type {Omit<import('./from-visit.js').Filled, 'cell'>[]} */ const fresh = [];
  /** @type {string[]} */ const filled = [];
  /** @type {string[]} */ const missing = [];
  /** @type {string[]} */ const left = [];
  /** @type {string[]} */ const wrong = [];
  for (const place of placesOf(root)) {
    const reading = openVisit.usable(place.name);
    const label = labelAt(root, place);
    const typed = cellAt(inputs, place);
    if (!reading && openVisit.reading(place.name)) wrong.push(label);
    else if (!reading) missing.push(label);
    else if (typed && !invented.has(label) && !before.some((each) => isAt(each, place))) {
      if (typed.value !== reading.value) left.push(label);
    } else {
      put(given, place, { value: reading.value, unit: reading.unit });
      fresh.push({ ...place, value: reading.value, unit: reading.unit });
      filled.push(label);
    }
  }
  if (filled.length) root.fill({ ...ways(root, given, inputs), ...whole(given, inputs) });
  rememberFilled(root, fresh);
  return words({ filled, missing, left, wrong });
}

/**
 * What came from the visit follows the visit: another figure there comes here too, and one that was
 * taken out, or is of another visit or of the other basis, goes. What a person typed stays.
 *
 * @param {Calculator} root
 * @returns {string} what was done, for the reader
 */
export function followVisit(root) {
  if (openVisit.storageError || openVisit.isLost) return '';
  const { inputs } = root;
  /** @type {Record<string, Given>} */ const given = {};
  /** @type {Omit<import('./from-visit.js').Filled, 'cell'>[]} */ const fresh = [];
  for (const { cell: _cell, ...each } of filledIn(root)) {
    const name = onBasis(inputs, each.name);
    const { value, unit } = openVisit.usable(name) ?? { value: '', unit: '' };
    if (name === each.name && value === each.value && unit === each.unit) continue;
    put(given, each, { value, unit });
    fresh.push({ ...each, name, value, unit });
  }
  if (!fresh.length) return '';
  root.fill(whole(given, inputs));
  rememberFilled(
    root,
    fresh.filter(({ value }) => value),
  );
  return `Changed with the visit: ${fresh.map((each) => labelAt(root, each)).join(', ')}.`;
}

/** @param {Record<string, Given>} given @param {Place} place @param {Cell} cell */
function put(given, { input, row, column }, cell) {
  if (row === null) {
    given[input] = cell;
    return;
  }
  const held = given[input];
  const rows = held && 'rows' in held ? held.rows : [];
  while (rows.length <= row) rows.push({});
  Object.assign(rows[row] ?? {}, { [column]: cell });
  given[input] = { rows };
}

/**
 * The choice that shows what was filled: two readings of the meter are no use in a form that asks
 * for the gas used. A way in which something else was typed or filled stays.
 *
 * @param {Calculator} root
 * @param {Record<string, Given>} given
 * @param {Record<string, Given>} inputs
 */
function ways(root, given, inputs) {
  /** @type {Record<string, Given>} */
  const chosen = {};
  const fields = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-hb-when]')]);
  const conditional = fields.flatMap(({ dataset }) => {
    const condition = conditionIn(dataset.hbWhen);
    return condition ? [{ name: dataset.hbField ?? '', ...condition }] : [];
  });
  for (const { choice, values } of conditional.filter(({ name }) => given[name])) {
    const now = inputs[choice];
    const chosenNow = now && 'value' in now ? now.value : '';
    const shown = conditional.filter(
      (each) => each.choice === choice && each.values.includes(chosenNow),
    );
    const isUsed = shown.some(({ name }) => given[name] ?? inputs[name]);
    if (!isUsed) chosen[choice] = { value: values[0] ?? '' };
  }
  return chosen;
}

/**
 * A table keeps the rows that the reader has put in below.
 *
 * @param {Record<string, Given>} given
 * @param {Record<string, Given>} inputs
 */
function whole(given, inputs) {
  for (const [name, each] of Object.entries(given)) {
    const before = inputs[name];
    if (!('rows' in each) || !before || !('rows' in before)) continue;
    while (each.rows.length < before.rows.length) each.rows.push({});
  }
  return given;
}

/** @param {{filled: string[], missing: string[], left: string[], wrong: string[]}} done */
function words({ filled, missing, left, wrong }) {
  const said = [];
  if (filled.length) said.push(`Filled from the visit: ${filled.join(', ')}.`);
  else said.push('Nothing was filled.');
  if (left.length) said.push(`Left as you typed it: ${left.join(', ')}.`);
  if (wrong.length) said.push(`Not usable as the visit has it: ${wrong.join(', ')}.`);
  if (missing.length) said.push(`Not in the visit yet: ${missing.join(', ')}.`);
  return said.join(' ');
}
