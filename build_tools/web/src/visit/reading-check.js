/**
 * Whether a reading can be used: a number, a unit of its kind, inside the range of the form. It is
 * what `calcs` asks of the inputs of calculators, by the facts that the build took from there; a
 * number with commas is refused here, because its form alone does not say what they mean. Here at
 * once, and on pages that have no calculator to ask.
 *
 * @typedef {{unit: string, low: number | null, high: number | null, lowText: string, highText: string,
 *   units: Record<string, [factor: number, added: number]>}} Fact
 */

import { plainLine } from './plain-text.js';

const NUMBER = /^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;
const CLOCK = /^([0-9]{1,3}):([0-5][0-9](?:\.[0-9]+)?)(?: ?min)?$/;
/** For the last digits of a conversion: a bound is accepted in any unit. */
const TOLERANCE = 1e-9;

/**
 * @param {{value: string, unit: string}} reading as it is kept
 * @param {Fact} fact
 * @returns {{value?: number, why: string}} its value in the unit of the field, or why it has none
 */
export function checked(reading, fact) {
  const text = plainLine(reading.value).replaceAll('\u2212', '-');
  const own = plainLine(reading.unit);
  const clock = fact.unit === 's' && !own ? CLOCK.exec(text) : null;
  if (clock) return inRange(60 * Number(clock[1]) + Number(clock[2]), fact);
  const number = NUMBER.test(text) ? Number(text) : NaN;
  if (!Number.isFinite(number)) return { why: notANumber(text, fact.unit) };
  if (own === fact.unit || !own) return inRange(number, fact);
  const meaning = Object.hasOwn(fact.units, own) ? fact.units[own] : undefined;
  if (meaning) return inRange(number * meaning[0] + meaning[1], fact);
  const wanted = fact.unit
    ? `Use ${fact.unit} or another unit of the same kind.`
    : 'It has no unit.';
  return { why: `It can't be in “${own.slice(0, 40)}”. ${wanted}` };
}

/** @param {string} text @param {string} unit */
function notANumber(text, unit) {
  const unitWords = unit ? `, and after it ${unit} or no unit` : '';
  const comma = text.includes(',')
    ? 'Write the decimal point as a full stop, and no other comma.'
    : '';
  return `It must be a number. ${comma || `Type one number${unitWords}.`}`;
}

/**
 * @param {number} value
 * @param {Fact} fact
 */
function inRange(value, { unit, low, high, lowText, highText }) {
  if (low === null || high === null) return { value, why: '' };
  const tolerance = TOLERANCE * Math.max(Math.abs(low), Math.abs(high));
  if (value >= low - tolerance && value <= high + tolerance) return { value, why: '' };
  const range = `${lowText} and ${highText}${unit && ` ${unit}`}`;
  return { why: `It must be between ${range}. Check the figure and its unit.` };
}

/**
 * @typedef {object} Facts as `build_tools/pages/readings.py` writes them into reading-facts.js
 * @property {Record<string, [unit: string, low: string | null, high: string | null]>} readings
 * @property {Record<string, Fact['units']>} units
 */

/** @returns {Facts | undefined} nothing where their file did not come */
const facts = () => /** @type {{hbReadingFacts?: Facts}} */ (globalThis).hbReadingFacts;

/**
 * @param {Facts} known
 * @param {string} name
 * @returns {Fact | null} nothing for a word that is chosen, and for a reading of another edition
 */
function factOf({ readings, units }, name) {
  const found = Object.hasOwn(readings, name) ? readings[name] : undefined;
  if (!found) return null;
  const [unit, low, high] = found;
  const ends = { lowText: low ?? '', highText: high ?? '' };
  return { unit, low: numberOf(low), high: numberOf(high), ...ends, units: units[unit] ?? {} };
}

/** @param {string | null} end */
const numberOf = (end) => (end === null ? null : Number(end));

/**
 * @param {{name: string, value: string, unit: string}} reading
 * @returns {string} why no calculator can take it; empty where one can
 */
export function whyNot(reading) {
  const known = facts();
  if (!known) return 'It could not be checked. Reload the page.';
  const fact = factOf(known, reading.name);
  return fact ? checked(reading, fact).why : '';
}
