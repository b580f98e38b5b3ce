/** Appliance cards on this device: each call is one transaction. Other windows are told. */

import { byTime } from '../lib/written-day.js';
import { whileHere } from './database.js';
import { tabSync } from './tab-sync.js';

/** @typedef {import('./card-types.js').Card} Card */

/** @returns {Promise<Card[]>} the one that was typed last comes first */
export const allCards = () =>
  whileHere(
    (place) => place.transaction('cards', 'readonly'),
    async (there) => {
      const cards = await there.store.getAll();
      return cards.sort((one, other) => byTime(other.at, one.at));
    },
  );

/** @param {Card[]} cards all of them, or none */
export async function putCards(cards) {
  await whileHere(
    (place) => place.transaction('cards', 'readwrite'),
    async (there) => {
      await Promise.all([...cards.map((each) => there.store.put(each)), there.done]);
    },
  );
  tabSync.tell();
}

/** @param {string} id */
export async function removeCard(id) {
  await whileHere(
    (place) => place.transaction('cards', 'readwrite'),
    async (there) => {
      await Promise.all([there.store.delete(id), there.done]);
    },
  );
  tabSync.tell();
}
