/** Appliance cards as a file: written, and read strictly. */

import schema from './appliance_card.schema.json' with { type: 'json' };
import { plainLine, plainText } from './plain-text.js';
import { listIn, readStrictly, repeated } from './read-strictly.js';

/** @typedef {import('./card-types.js').Card} Card */
/** @typedef {import('./card-types.js').CardFile} CardFile */
/** @typedef {import('./schema-check.js').Problem} Problem */

/**
 * @param {string} text
 * @param {number} [now] no card is later than that
 * @returns {{file: CardFile, problems?: undefined} | {problems: Problem[], file?: undefined}}
 */
export const readCards = (text, now = Date.now()) =>
  readStrictly(text, schema, { more: twice }, now);

/** @param {any} value @returns {Problem[]} */
function twice({ cards }) {
  return [
    ...repeated(cards, 'cards', ({ id }) => id),
    ...listIn(cards).flatMap((card, number) =>
      repeated(card?.lines, `cards[${number}].lines`, ({ field }) => field),
    ),
  ];
}

/** @param {Card[]} cards @param {string} edition of the handbook @returns {CardFile} */
export const cardFile = (cards, edition) => ({
  format: schema.properties.format.const,
  version: schema.properties.version.const,
  edition,
  written: new Date().toISOString(),
  cards: cards.map(readable),
});

/** @param {Card} card @returns {Card} without what an import refuses */
const readable = (card) => ({
  ...card,
  name: plainLine(card.name) || 'card',
  edition: plainLine(card.edition) || 'not said',
  lines: card.lines.map(({ field, text, unit, page }) => ({
    ...{ field, text: plainText(text), unit: plainLine(unit), page: plainLine(page) },
  })),
});

/** @param {Card} one @param {Card} other @returns {boolean} whether they say the same */
export const sameCard = (one, other) => said(one) === said(other);

/** @param {Card} card */
const said = ({ edition, invented, lines }) =>
  JSON.stringify([
    edition,
    invented,
    lines.map(({ field, text, unit, page }) => JSON.stringify([field, text, unit, page])).sort(),
  ]);
