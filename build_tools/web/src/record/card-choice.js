/** On the record's page: which card the appliance goes by. The page of cards asks for the same. */

import { find, setText } from '../lib/find.js';
import { allCards } from '../visit/card-store.js';
import { openVisit } from '../visit/open-visit.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { useCard } from './use-card.js';

/** @param {HTMLElement} root */
export async function showCardChoice(root) {
  const choice = /** @type {HTMLSelectElement} */ (find(root, '[data-hb-card-choice]'));
  const cards = await allCards().catch(() => []);
  if (!root.isConnected) return;
  const used = openVisit.appliances.find(({ id }) => id === openVisit.appliance)?.card;
  const known = cards.map(({ id, name, invented }) => ({
    ...{ id, name: invented ? `${name} (invented)` : name },
  }));
  // One that was deleted, or is on another device, is still named.
  if (used && !known.some(({ id }) => id === used.id)) {
    known.push({ id: used.id, name: `${used.name} (not on this device)` });
  }
  const options = [{ id: '', name: 'No card' }, ...known];
  choice.replaceChildren(...options.map(({ id, name }) => new Option(name, id)));
  choice.value = used?.id ?? '';
  find(root, '[data-hb-card-choice-line]').hidden = !known.length;
}

/** @param {HTMLElement} root */
export function startCardChoice(root) {
  const choice = /** @type {HTMLSelectElement} */ (find(root, '[data-hb-card-choice]'));
  const said = find(root, '[data-hb-appliance-said]');
  choice.addEventListener('change', () => {
    void use(choice.value).then((words) => setText(said, words));
  });
}

/** @param {string} id @returns {Promise<string>} what was done, for the reader */
async function use(id) {
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
    if (used?.id === id) void use(id);
  });
  document.addEventListener('hb:use-card', (event) => {
    const { id, tell } = /** @type {CustomEvent<{id: string, tell(words: string): void}>} */ (event)
      .detail;
    void use(id).then(tell);
  });
}
