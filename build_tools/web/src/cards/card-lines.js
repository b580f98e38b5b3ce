/** A line of a card as it is typed: a figure with a unit, or words. */

import { plainText } from '../visit/plain-text.js';
import { typedReading } from '../visit/reading-text.js';

/** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Control */

/** @param {HTMLElement} root @param {string} id @returns {HTMLElement | null} */
export const fieldOf = (root, id) => root.querySelector(`[data-hb-card-field="${CSS.escape(id)}"]`);

/** @param {Element | null} field @returns {Control | null} */
export const controlIn = (field) =>
  /** @type {Control | null} */ (field?.querySelector('[data-hb-card-text]') ?? null);

/** @param {Element | null} field @returns {string} the unit that stands beside it; empty for words */
export const unitIn = (field) =>
  field?.querySelector('[data-hb-card-unit]')?.textContent?.trim() ?? '';

/**
 * @param {HTMLElement} root
 * @param {string} id
 * @param {string} text
 * @returns {{text: string, unit: string}}
 */
export function numberAndUnit(root, id, text) {
  const field = fieldOf(root, id);
  if (!(controlIn(field) instanceof HTMLInputElement))
    return { text: plainText(text).trim(), unit: '' };
  const { value, unit } = typedReading(text, unitIn(field));
  return { text: value, unit };
}
