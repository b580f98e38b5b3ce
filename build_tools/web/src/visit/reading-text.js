/** A reading as people type it and as it is kept: its number, and the unit beside it. */

import { cell } from '../calculator/form-reader.js';
import { plainLine } from './plain-text.js';
import { IN_WORDS } from './reading-check.js';

/** A number, and a unit that was typed behind it. */
const WITH_UNIT = /^([\d.,\s'’+\-−]*\d\.?(?:[eE][+\-−]?\d+)?)\s*([\p{L}°º%"″].*)$/u;

/**
 * What was typed, unchanged: nothing is converted. A unit that was typed is the reading's own.
 *
 * @param {string} text
 * @param {string} unit that stands beside the field
 * @returns {{value: string, unit: string}} words such as "not fitted" have no unit
 */
export function typedReading(text, unit) {
  const value = plainLine(text);
  if (IN_WORDS.test(value)) return { value, unit: '' };
  if (cell(value, unit).unit !== undefined) return { value, unit };
  const [, number, own] = WITH_UNIT.exec(value) ?? [];
  return number && own ? { value: number.trim(), unit: own.trim() } : { value, unit: '' };
}

/**
 * The text of a field that shows a reading.
 *
 * @param {{value: string, unit: string}} reading
 * @param {string} beside the unit that stands beside the field
 */
export function fieldText({ value, unit }, beside) {
  return unit === beside || !unit ? value : `${value} ${unit}`;
}

/** @param {{value: string, unit: string}} reading @returns {string} "20.1 mbar" */
export const wholeText = ({ value, unit }) => (unit ? `${value}\u00a0${unit}` : value);
