/** What each field of a card is for, and how its words say where they are from. */

/** @typedef {import('./card-types.js').Card} Card */
/** @typedef {import('./card-types.js').CardField} CardField */
/** @typedef {import('./card-types.js').CardLine} CardLine */

/** @returns {CardField[]} what reading-facts.js has set: without it no card is shown */
export function cardFields() {
  const { hbReadingFacts } = /** @type {{hbReadingFacts?: {cards?: CardField[]}}} */ (globalThis);
  return hbReadingFacts?.cards ?? [];
}

/** @param {{edition: string}} card @param {{page: string}} line @returns {string} "edition 3, page 32" */
export const fromWords = ({ edition }, { page }) =>
  [`edition ${edition}`, page && `page ${page}`].filter(Boolean).join(', ');

/** @param {CardLine} line @returns {string} a figure with its unit, a choice as a sentence */
export const lineWords = ({ text, unit }) =>
  unit ? `${text}\u00a0${unit}` : text.charAt(0).toUpperCase() + text.slice(1);
