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

/** @type {WeakMap<Element, any>} */
const read = new WeakMap();

/** @param {string} name @returns {Fact | null} where the page knows the reading */
function factOf(name) {
  for (const place of document.querySelectorAll('data[data-hb-reading-facts]')) {
    const all = read.get(place) ?? JSON.parse(/** @type {HTMLDataElement} */ (place).value);
    read.set(place, all);
    if (!Object.hasOwn(all.readings, name)) continue;
    const [unit, lowText, highText] = all.readings[name];
    const [low, high] = [lowText, highText].map((end) => (end === null ? null : Number(end)));
    return {
      unit,
      low: low ?? null,
      high: high ?? null,
      lowText,
      highText,
      units: all.units[unit] ?? {},
    };
  }
  return null;
}

/**
 * @param {{name: string, value: string, unit: string}} reading
 * @returns {string} why no calculator can take it; empty where one can
 */
export function whyNot(reading) {
  const fact = factOf(reading.name);
  return fact ? checked(reading, fact).why : '';
}
