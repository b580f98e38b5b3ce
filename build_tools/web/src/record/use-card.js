/** An appliance of the visit goes by a card: its figures fill readings, and are marked. */

import { cardFields, fromWords } from '../visit/card-fields.js';
import { changeCard } from '../visit/change-appliances.js';
import { openVisit } from '../visit/open-visit.js';
import { fieldText, typedReading } from '../visit/reading-text.js';

/** @typedef {import('../visit/card-types.js').Card} Card */
/** @typedef {import('../visit/open-visit.js').NewReading} NewReading */

/**
 * What a hand has typed stays. What an earlier card has filled goes.
 *
 * @param {Card | null} card nothing for an appliance that goes by none
 * @returns {Promise<string>} what was done, for the reader
 */
export async function useCard(card) {
  if (!openVisit.visit) return 'Start a visit first. Its first reading opens one.';
  const readings = readingsOf(card);
  const names = new Set(readings.map(({ name }) => name));
  const gone = openVisit.entries.flatMap((each) =>
    each.kind === 'reading' && each.from_card && !names.has(each.name)
      ? [{ name: each.name, label: each.label, value: '', unit: '' }]
      : [],
  );
  const fresh = readings.filter(({ name }) => {
    const held = openVisit.reading(name);
    return !held || held.from_card !== undefined;
  });
  const { appliance } = openVisit;
  await changeCard(appliance, card && { id: card.id, name: card.name, edition: card.edition });
  await openVisit.keepReadings([...fresh, ...gone]);
  return words(card, fresh.length, readings.length - fresh.length);
}

/** @param {Card | null} card @returns {NewReading[]} an invented one fills none */
function readingsOf(card) {
  if (!card || card.invented) return [];
  return cardFields().flatMap(({ id, label, reading }) => {
    const line = card.lines.find(({ field }) => field === id);
    if (!reading || !line?.text) return [];
    const typed = typedReading(
      fieldText({ value: line.text, unit: line.unit }, line.unit),
      line.unit,
    );
    return [{ name: reading, label, ...typed, from_card: fromWords(card, line) }];
  });
}

/** @param {Card | null} card @param {number} filled @param {number} left */
function words(card, filled, left) {
  const where = openVisit.applianceName || 'This visit';
  if (!card) return `${where} goes by no card.`;
  const said = [`${where} goes by “${card.name}”.`];
  if (card.invented) said.push('It is invented and fills no reading.');
  else said.push(`${filled} ${filled === 1 ? 'reading' : 'readings'} filled.`);
  if (left) said.push(`${left} that you typed ${left === 1 ? 'stays' : 'stay'} as it is.`);
  return said.join(' ');
}
