/** An appliance of the visit goes by another card: the visit's page and that of cards ask for it. */

import { allCards } from '../visit/card-store.js';
import { openVisit } from '../visit/open-visit.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { useCard } from './use-card.js';

/** @param {string} id @returns {Promise<string>} what was done, for the reader */
export async function useCardOf(id) {
  try {
    const cards = await allCards();
    const card = cards.find((each) => each.id === id);
    if (id && !card) return 'That card is not on this device. Import it, or choose another.';
    return await useCard(card ?? null);
  } catch (error) {
    return storageErrorWords(storageErrorOf(error));
  }
}

/** The page of cards has a script of its own, which knows no visit. */
export function startUsingCards() {
  // What was filled from a card that is changed follows it.
  document.addEventListener('hb:card-kept', (event) => {
    const { id } = /** @type {CustomEvent<{id: string}>} */ (event).detail;
    const used = openVisit.appliances.find((each) => each.id === openVisit.appliance)?.card;
    if (used?.id === id) void useCardOf(id);
  });
  document.addEventListener('hb:use-card', (event) => {
    const { id, tell } = /** @type {CustomEvent<{id: string, tell(words: string): void}>} */ (event)
      .detail;
    void useCardOf(id).then(tell);
  });
}
