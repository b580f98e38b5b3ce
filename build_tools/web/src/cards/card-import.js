/** Brings cards in from a file. Nothing that is here is ever changed by it. */

import { beside, textOf } from '../visit/bring-in.js';
import { readCards, sameCard } from '../visit/card-file.js';
import { allCards, putCards } from '../visit/card-store.js';

/** @typedef {import('../visit/bring-in.js').Imported} Imported */

/** @param {File} file @returns {Promise<Imported>} */
export async function importCards(file) {
  const { text, refused } = await textOf(file, 'cards');
  if (refused) return refused;
  const { file: read, problems } = readCards(text);
  if (problems) return { words: [], problems };
  const { added, words } = beside(read.cards, await allCards(), sameCard);
  await putCards(added);
  return { words };
}
