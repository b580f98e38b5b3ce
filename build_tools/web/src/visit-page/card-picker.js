/** On the page of the visit: which card the appliance goes by. */

import { find, setText } from '../lib/find.js';
import { useCardOf } from '../record/card-choice.js';
import { allCards } from '../visit/card-store.js';
import { openVisit } from '../visit/open-visit.js';

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
    void useCardOf(choice.value).then((words) => setText(said, words));
  });
}
