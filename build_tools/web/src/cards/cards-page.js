/** The page of appliance cards: those of this device, and what can be done with each. */

import { downloadText } from '../lib/download.js';
import { thisEdition } from '../lib/edition.js';
import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { showImported } from '../visit/bring-in.js';
import { cardFile } from '../visit/card-file.js';
import { allCards, putCards, removeCard } from '../visit/card-store.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { tabSync } from '../visit/tab-sync.js';
import { freeName, momentWords, newId } from '../visit/visit-name.js';
import { changeCard, startCardForm } from './card-form.js';
import { importCards } from './card-import.js';
import { inventedCard } from './invented-card.js';

/** @typedef {import('../visit/card-types.js').Card} Card */

/** @type {WeakSet<Element>} */
const ready = new WeakSet();

/** @type {Card[]} */ let cards = [];

/** @returns {HTMLElement | null} */
const page = () => document.querySelector('[data-hb-cards-page]');

export async function showCardsPage() {
  const root = page();
  if (!root) return;
  if (!ready.has(root)) setUp(root);
  const error = find(root, '[data-hb-cards-error]');
  try {
    cards = await allCards();
    error.hidden = true;
  } catch (refusal) {
    cards = [];
    error.hidden = false;
    setText(error, `The cards are not there. ${storageErrorWords(storageErrorOf(refusal))}`);
  }
  if (!root.isConnected) return;
  find(root, '[data-hb-cards-none]').hidden = cards.length > 0 || !error.hidden;
  const every = /** @type {HTMLButtonElement} */ (find(root, '[data-hb-cards-export]'));
  every.disabled = !cards.length;
  fillList(root, 'cards', cards.map(rowOf), { finish });
}

/** @param {Card} card */
const rowOf = ({ id, name, edition, at, invented }) => ({
  ...{ id, name, state: invented ? 'invented' : '' },
  about: `Instructions, edition ${edition}. ${invented ? 'Copied' : 'Typed'} on ${momentWords(at)}.`,
});

/** @param {HTMLElement} node @param {import('../protocol/bridge-types.js').Item} item */
function finish(node, item) {
  const card = cards.find(({ id }) => id === item.id);
  if (!card) return;
  if (node.dataset.hbCardId !== card.id) find(node, '[data-hb-sure]').hidden = true;
  node.dataset.hbCardId = card.id;
  for (const button of node.querySelectorAll('[data-hb-card-act]')) {
    button.setAttribute('aria-label', `${button.textContent}: ${card.name}`);
  }
  setText(
    find(node, '[data-hb-sure-words]'),
    `Delete “${card.name}”? What is deleted can't be brought back. Readings that it filled stay.`,
  );
  find(node, '[data-hb-card-lines]').replaceChildren(...linesOf(card));
}

/** @param {Card} card @returns {HTMLElement[]} in the order of the form */
function linesOf({ lines }) {
  const fields = [...document.querySelectorAll('[data-hb-card-field]')];
  const labels = new Map(
    fields.map((each) => [
      each.getAttribute('data-hb-card-field') ?? '',
      each.querySelector('label')?.textContent ?? '',
    ]),
  );
  const known = [...labels].flatMap(([id, label]) => {
    const line = lines.find(({ field }) => field === id);
    return line ? [{ label, ...line }] : [];
  });
  // A line of another edition stays in sight.
  const others = lines.filter(({ field }) => !labels.has(field));
  return [
    ...known,
    ...others.map((each) => ({ label: each.field.replaceAll('_', ' '), ...each })),
  ].flatMap(({ label, text, unit, page: at }) => {
    const [term, words, from] = ['dt', 'dd', 'span'].map((tag) => document.createElement(tag));
    if (!term || !words || !from) return [];
    term.textContent = label;
    from.className = 'hb-small';
    from.textContent = at && `page ${at}`;
    words.append(unit ? `${text}\u00a0${unit}` : text, ' ', from);
    return [term, words];
  });
}

/** @param {HTMLElement} root */
function setUp(root) {
  ready.add(root);
  for (const part of root.querySelectorAll('[data-hb-cards-live]')) part.removeAttribute('hidden');
  const said = find(root, '[data-hb-cards-said]');
  const tell = (/** @type {Promise<string>} */ doing) =>
    void doing.then(
      (words) => setText(said, words),
      (error) => setText(said, storageErrorWords(storageErrorOf(error))),
    );
  find(root, '[data-hb-list="cards"]').addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('[data-hb-card-act]') : null;
    const item = button?.closest('[data-hb-card-id]');
    if (button instanceof HTMLElement && item instanceof HTMLElement)
      tell(pressed(button.dataset.hbCardAct ?? '', item, root));
  });
  find(root, '[data-hb-card-copy-invented]').addEventListener('click', () =>
    tell(copyOf(inventedCard(root))),
  );
  find(root, '[data-hb-cards-export]').addEventListener('click', () => take(cards, 'cards.json'));
  startCardForm(root, showCardsPage);
  const file = /** @type {HTMLInputElement} */ (find(root, '[data-hb-cards-import]'));
  file.addEventListener('change', async () => {
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    const place = find(root, '[data-hb-cards-import-said]');
    try {
      showImported(place, chosen.name, await importCards(chosen));
    } catch (error) {
      setText(place, storageErrorWords(storageErrorOf(error)));
    }
    file.value = ''; // so that the same file can be tried again
    await showCardsPage();
  });
}

/** @param {Card[]} which @param {string} name */
const take = (which, name) =>
  downloadText(
    name,
    `${JSON.stringify(cardFile(which, thisEdition()?.name ?? ''), null, 1)}\n`,
    'application/json',
  );

/** @param {Card} card @returns {Promise<string>} */
async function copyOf(card) {
  const name = freeName(
    card.name,
    cards.map((each) => each.name),
  );
  await putCards([{ ...card, id: newId(), name, at: new Date().toISOString() }]);
  await showCardsPage();
  return `“${name}” is kept.`;
}

/** @param {string} act @param {HTMLElement} item @param {HTMLElement} root @returns {Promise<string>} */
async function pressed(act, item, root) {
  const card = cards.find(({ id }) => id === item.dataset.hbCardId);
  const sure = find(item, '[data-hb-sure]');
  if (!card) return '';
  if (act === 'delete' || act === 'spare') {
    sure.hidden = act === 'spare';
    find(item, `[data-hb-card-act="${act === 'delete' ? 'spare' : 'delete'}"]`).focus();
    return '';
  }
  if (act === 'use') return askedToUse(card.id);
  if (act === 'copy') return copyOf(card);
  if (act === 'change') {
    changeCard(root, card);
    return '';
  }
  if (act === 'export') {
    take([card], 'card.json');
    return `“${card.name}” is exported.`;
  }
  await removeCard(card.id);
  await showCardsPage();
  find(root, '[data-hb-card-name]').focus();
  return `“${card.name}” is deleted.`;
}

/** @param {string} id @returns {Promise<string>} what the script of the visit record says to it */
const askedToUse = (id) =>
  new Promise((tell) => {
    document.dispatchEvent(new CustomEvent('hb:use-card', { detail: { id, tell } }));
  });

export function startCardsPage() {
  tabSync.onChange(() => void showCardsPage());
}
