/** Which reading of the visit stands behind each input of a calculator. */

import { isOfAnyState } from '../visit/reading-check.js';
import { typedReading, wholeText } from '../visit/reading-text.js';

/** @typedef {import('../calculator/calculator-element.js').CalculatorElement} Calculator */
/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {import('../visit/visit-types.js').Reading} Reading */
/** @typedef {Omit<Reading, 'at'>} Kept */
/** @typedef {{input: string, row: number | null, column: string, name: string}} Place */

/**
 * The places of a calculator, as it stands now. In a step the same input may be a reading as found,
 * as left or at minimum: only what the step says, or what can be nothing else, counts there.
 *
 * @param {Calculator} root
 * @returns {Place[]}
 */
export function placesOf(root) {
  const step = root.closest('[data-hb-step]');
  const all = everyPlace(root).map((each) => ({ ...each, name: onBasis(root.inputs, each.name) }));
  if (!(step instanceof HTMLElement)) return all;
  /** @type {Record<string, string>} */
  const gives = JSON.parse(step.dataset.hbGives ?? '{}');
  const given = Object.entries(gives).map(([input, name]) => ({
    input,
    row: null,
    column: input,
    name,
  }));
  const places = [...all.filter(({ input }) => !gives[input]), ...given];
  const own = readingsOf(step);
  const isOther = own.some((name) => !places.some((place) => place.name === name));
  const before = isOther ? [] : readingsBefore(step);
  return places.filter(
    ({ name }) => isOfAnyState(name) || own.includes(name) || before.includes(name),
  );
}

const BASES = ['net', 'gross'];
const ON_PLATE = /^(plate\.heat_input_)(?:net|gross)(?=_|$)/;

/**
 * A plate gives its heat input net or gross, and the visit has a reading for each. Where the form
 * asks which, its field is of that one: what is gross is filled from gross alone, and kept as that.
 *
 * @param {Record<string, Given>} inputs
 * @param {string} name of a reading
 */
export function onBasis(inputs, name) {
  const chosen = Object.values(inputs).flatMap((each) => ('value' in each ? [each.value] : []));
  const basis = BASES.find((each) => chosen.includes(each));
  return basis ? name.replace(ON_PLATE, `$1${basis}`) : name;
}

/** @param {ParentNode} root @returns {string[]} */
function readingsOf(root) {
  const lines = [...root.querySelectorAll('li[data-hb-reading]')];
  return lines.map((line) => line.getAttribute('data-hb-reading') ?? '');
}

/** @param {Element} step @returns {string[]} what the steps before it have asked for */
function readingsBefore(step) {
  const steps = [...document.querySelectorAll('[data-hb-step]')];
  return steps.slice(0, steps.indexOf(step)).flatMap(readingsOf);
}

/** @param {Calculator} root @returns {Place[]} as its worked example names them */
function everyPlace(root) {
  const one = [...root.querySelectorAll('[data-hb-field][data-hb-reading]')].map((field) => {
    const { hbField = '', hbReading = '' } = /** @type {HTMLElement} */ (field).dataset;
    return { input: hbField, row: null, column: hbField, name: hbReading };
  });
  const rows = [...root.querySelectorAll('[data-hb-reading-rows]')].flatMap((table) => {
    const { hbField = '', hbReadingRows = '[]' } = /** @type {HTMLElement} */ (table).dataset;
    /** @type {Record<string, string>[]} */
    const named = JSON.parse(hbReadingRows);
    return named.flatMap((columns, row) =>
      Object.entries(columns).map(([column, name]) => ({ input: hbField, row, column, name })),
    );
  });
  return [...one, ...rows];
}

/** @param {Record<string, Given>} inputs @param {Place} place @returns {Cell | undefined} */
export function cellAt(inputs, { input, row, column }) {
  const given = inputs[input];
  if (!given) return undefined;
  if ('rows' in given) return row === null ? undefined : given.rows[row]?.[column];
  return given;
}

/**
 * The readings that were typed into a calculator, in the unit that they were typed in.
 *
 * @param {Calculator} root
 * @param {Record<string, Given>} inputs
 * @returns {Kept[]}
 */
export function readingsIn(root, inputs) {
  return placesOf(root).flatMap((place) => {
    const cell = cellAt(inputs, place);
    if (!cell) return [];
    const kept = typedReading(cell.value, unitText(root, place, cell.unit ?? ''));
    return [{ name: place.name, label: labelAt(root, place), ...kept }];
  });
}

/** @param {Calculator} root @param {Place} place @returns {Element | null} */
function owner(root, { input, row, column }) {
  const field = root.querySelector(`[data-hb-field="${CSS.escape(input)}"]`);
  if (row === null) return field;
  return (
    field
      ?.querySelectorAll('[data-hb-row]')
      [row]?.querySelector(`[data-hb-cell="${CSS.escape(column)}"]`) ?? null
  );
}

/**
 * @param {Calculator} root
 * @param {Place} place
 * @returns {string} as the form says it
 */
export function labelAt(root, place) {
  const found = owner(root, place);
  const label = found?.querySelector('[data-hb-label]')?.textContent ?? place.name;
  return place.row === null ? label : `${label}, row ${place.row + 1}`;
}

/**
 * @param {Calculator} root
 * @param {Place} place
 * @param {string} unit as the calculators name it
 * @returns {string} as people write it
 */
function unitText(root, place, unit) {
  const found = owner(root, place);
  const option = found?.querySelector(`select[data-hb-units] option[value="${CSS.escape(unit)}"]`);
  if (option) return unit ? (option.textContent ?? unit) : '';
  const own = /** @type {HTMLElement | null} */ (found)?.dataset;
  return own?.hbUnit === unit ? (own.hbUnitText ?? unit) : unit;
}

/** @param {{label: string, value: string, unit: string}} reading */
export const named = (reading) => `${reading.label} ${wholeText(reading)}`;
