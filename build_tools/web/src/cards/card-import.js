/** Brings cards in from a file. Nothing that is here is ever changed by it. */

import { setText } from '../lib/find.js';
import { readCards, sameCard } from '../visit/card-file.js';
import { allCards, putCards } from '../visit/card-store.js';
import { freeName, newId } from '../visit/visit-name.js';

/** @typedef {import('../visit/card-types.js').Card} Card */
/** @typedef {import('../visit/schema-check.js').Problem} Problem */
/** @typedef {{words: string[], problems?: Problem[]}} Imported */

/** A card takes some kilobytes. */
const LARGEST_BYTES = 5_000_000;
const MOST_SHOWN = 50;

/** @param {File} file @returns {Promise<Imported>} */
export async function importCards(file) {
  if (file.size > LARGEST_BYTES) {
    const [found, most] = [file.size, LARGEST_BYTES].map((each) => `${(each / 1e6).toFixed(1)} MB`);
    const fix = 'Export fewer cards at a time.';
    const where = 'the file';
    return {
      words: [],
      problems: [{ where, found: `${found}`, expected: `at most ${most}`, fix }],
    };
  }
  const { file: read, problems } = readCards(await file.text());
  if (problems) return { words: [], problems };
  const here = await allCards();
  const names = here.map(({ name }) => name);
  /** @type {Card[]} */ const added = [];
  const words = read.cards.map((card) => {
    const twin = here.find(({ id }) => id === card.id);
    if (twin && sameCard(twin, card)) return `“${card.name}” is here already, just the same.`;
    const name = freeName(card.name, names);
    names.push(name);
    added.push({ ...card, name, id: twin ? newId() : card.id });
    return twin
      ? `“${card.name}” is here already, and differs. Both are kept: the one from the file is “${name}”.`
      : `“${name}” is imported.`;
  });
  await putCards(added);
  return { words };
}

/** @param {HTMLElement} place @param {string} name of the file @param {Imported} done */
export function showImported(place, name, { words, problems }) {
  const lines = problems
    ? [`Nothing was imported from ${name}, and nothing here was changed.`]
    : words;
  place.replaceChildren(
    ...lines.map((text) => {
      const line = document.createElement('p');
      setText(line, text);
      return line;
    }),
  );
  if (!problems) return;
  const list = document.createElement('ul');
  list.className = 'hb-list';
  for (const { where, found, expected, fix } of problems.slice(0, MOST_SHOWN)) {
    const item = document.createElement('li');
    item.textContent = `${where}: found ${found}; expected ${expected}. ${fix}`;
    list.append(item);
  }
  const rest = problems.length - MOST_SHOWN;
  place.append(list, ...(rest > 0 ? [`And ${rest} more.`] : []));
}
