/**
 * Whether a reading can be used: a number, a unit of its kind, inside the range of the form. It is
 * what `calcs` asks of the inputs of calculators, by the facts that the build took from there. Here
 * at once, and on pages that have no calculator to ask.
 *
 * @typedef {[factor: number, added: number, noThousandths?: 1]} Meaning of a unit in the field's own;
 *   of a small one a comma can only part thousands
 * @typedef {{unit: string, low: number | null, high: number | null, lowText: string, highText: string,
 *   units: Record<string, Meaning>, isCount?: boolean}} Fact
 */

import { plainLine } from './plain-text.js';

const NUMBER = /^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;
/** Groups of exactly three, as 80,000 is written in Britain: as in calcs/engine/typed_number.py. */
const GROUPED = /^[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?$/;
const ONE_GROUP = /^[+-]?([0-9]{1,3}),[0-9]{3}$/;
/** "1m 48s", "1 min 48 sec": as in calcs/engine/units.py. */
export const IN_WORDS = /^([0-9]{1,3}) ?m(?:ins?)? ?([0-5]?[0-9](?:\.[0-9]+)?) ?s(?:ecs?)?$/i;
const INCHES = new Set(['"', '″', '”', '“', 'in', 'ins', 'inch', 'inches']);
const CLOCK = /^([0-9]{1,3}):([0-5][0-9](?:\.[0-9]+)?)(?: ?min)?$/;
/** For the last digits of a conversion, as in calcs/engine/parse_value.py. */
const LAST_DIGITS = 1e-12;
const SCALES_APART = 460;
const SCALES = new Set(['°C', '°F']);

/**
 * @param {{value: string, unit: string}} reading as it is kept
 * @param {Fact} fact
 * @returns {{value?: number, why: string}} its value in the unit of the field, or why it has none
 */
export function checked(reading, fact) {
  const text = plainLine(reading.value).replaceAll('\u2212', '-');
  const own = plainLine(reading.unit);
  const words = ['s', 'min'].includes(fact.unit) && !own ? IN_WORDS.exec(text) : null;
  if (words) return inRange((60 * Number(words[1]) + Number(words[2])) / secondsIn(fact), fact);
  const clock = fact.unit === 's' && !own ? CLOCK.exec(text) : null;
  if (clock) return inRange(60 * Number(clock[1]) + Number(clock[2]), fact);
  const plain = withoutCommas(text);
  const number = NUMBER.test(plain) ? Number(plain) : NaN;
  if (!Number.isFinite(number)) return notANumber(howToWrite(text, fact.unit));
  const meaning = meaningOf(own, fact);
  if (!meaning) return { why: `It can't be in “${own.slice(0, 40)}”. ${unitsWanted(fact, own)}` };
  const inUnit = (/** @type {number} */ each) => inRange(each * meaning[0] + meaning[1], fact);
  // On a meter's drums the comma is the decimal point.
  const isUnclear = ONE_GROUP.test(text) && !meaning[2];
  if (isUnclear && !inUnit(Number(text.replace(',', '.'))).why) return notANumber(eitherWay(text));
  return inUnit(number);
}

/** @param {string} own the unit that was typed, if any @param {Fact} fact @returns {Meaning | null} */
function meaningOf(own, { unit, units }) {
  const name = own || unit;
  if (Object.hasOwn(units, name)) return units[name] ?? null;
  return name === unit ? [1, 0] : null;
}

/** @param {Fact} fact */
const secondsIn = ({ unit }) => (unit === 'min' ? 60 : 1);

/** @param {Fact} fact @param {string} own */
function unitsWanted({ unit, units }, own) {
  if (!unit) return 'It has no unit.';
  const isWater = INCHES.has(own.toLowerCase()) && Object.hasOwn(units, 'in w.g.');
  const water = isWater ? 'Write in w.g. where it is inches of water. ' : '';
  return `${water}Use ${unit} or another unit of the same kind.`;
}

/** @param {string} text @returns {string} without commas, where they can only part thousands */
function withoutCommas(text) {
  const lone = ONE_GROUP.exec(text)?.[1];
  return GROUPED.test(text) && lone?.length !== 1 ? text.replaceAll(',', '') : text;
}

/** @param {string} fix */
const notANumber = (fix) => ({ why: `It must be a number. ${fix}` });

/** @param {string} text what is no number @param {string} unit */
function howToWrite(text, unit) {
  const lone = ONE_GROUP.exec(text)?.[1];
  if (lone && !lone.startsWith('0')) return eitherWay(text);
  if (text.includes(',')) return 'Write the decimal point as a full stop.';
  return `Type one number${unit ? `, and after it ${unit} or no unit` : ''}.`;
}

/** @param {string} text whose comma may part thousands, or be a decimal one */
const eitherWay = (text) =>
  `Its comma can be read in two ways. Write ${text.replace(',', '')} or ${text.replace(',', '.')}.`;

/**
 * @param {number} value
 * @param {Fact} fact
 */
function inRange(value, { unit, low, high, lowText, highText, isCount }) {
  if (isCount && !Number.isInteger(value)) return { why: 'It is a count. Type a whole number.' };
  if (low === null || high === null) return { value, why: '' };
  const isWithin = value >= low - tolerance(low, unit) && value <= high + tolerance(high, unit);
  if (isWithin) return { value, why: '' };
  const range = `${lowText} and ${highText}${unit && ` ${unit}`}`;
  return { why: `It must be between ${range}. Check the figure and its unit.` };
}

/**
 * Nought is nought in every unit but those of temperature.
 *
 * @param {number} end @param {string} unit
 */
const tolerance = (end, unit) =>
  LAST_DIGITS * (Math.abs(end) + (SCALES.has(unit) ? SCALES_APART : 0));

/**
 * @typedef {object} Facts as `build_tools/pages/readings.py` writes them into reading-facts.js
 * @property {Record<string, [unit: string, low: string | null, high: string | null, any?: 0 | 1, step?: string, count?: 1]>} readings
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
  const [unit, low, high, , , count] = found;
  const ends = { lowText: low ?? '', highText: high ?? '' };
  const isCount = count === 1;
  return {
    unit,
    low: numberOf(low),
    high: numberOf(high),
    ...ends,
    isCount,
    units: units[unit] ?? {},
  };
}

/**
 * What belongs to the appliance, the gas or the pipes is the same in every step.
 *
 * @param {string} name
 */
export const isOfAnyState = (name) => facts()?.readings[name]?.[3] === 1;

/** @param {string} name @returns {string} the step of the gauge that shows it; empty without one */
export const gaugeStepOf = (name) => facts()?.readings[name]?.[4] ?? '';

/** @param {string} name @returns {boolean} whether it can be less than nothing */
export const canBeNegative = (name) => Number(facts()?.readings[name]?.[1] ?? 0) < 0;

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
