/**
 * In each step the words of the card that the appliance goes by. They stand after the step's stops
 * and cautions and before its field: they take nothing away and hide nothing.
 */

import { cardFields, fromWords, lineWords } from '../visit/card-fields.js';
import { allCards } from '../visit/card-store.js';
import { openVisit } from '../visit/open-visit.js';

/** @typedef {import('../visit/card-types.js').Card} Card */

const WORDS = '[data-hb-card-words]';

/** @type {Card | null} the one that the steps show */ let shown = null;
let asked = 0;

/** @returns {string} id of the card that the appliance worked on goes by */
const cardNow = () =>
  openVisit.appliances.find(({ id }) => id === openVisit.appliance)?.card?.id ?? '';

export async function showCardWords() {
  if (!openVisit.isRead || !document.querySelector('[data-hb-procedure]')) return;
  const id = cardNow();
  asked += 1;
  const mine = asked;
  if (shown && shown.id !== id) shown = null;
  show();
  if (!id) return;
  const cards = await allCards().catch(() => []);
  if (mine !== asked) return; // another one is asked for by now
  shown = cards.find((each) => each.id === id) ?? null;
  show();
}

/** Puts the words of the card into the steps of the page, each where its field belongs. */
function show() {
  const procedure = document.querySelector('[data-hb-procedure]');
  const stem = procedure?.getAttribute('data-hb-procedure');
  /** @type {Map<string, HTMLElement[]>} */ const bySteps = new Map();
  for (const { id, steps = [] } of cardFields()) {
    const line = shown?.lines.find(({ field }) => field === id);
    if (!shown || !line?.text) continue;
    for (const step of steps.filter((each) => each.startsWith(`${stem}.`))) {
      bySteps.set(step, [...(bySteps.get(step) ?? []), wordsOf(shown, line)]);
    }
  }
  for (const old of document.querySelectorAll(WORDS)) {
    const step = old.closest('[data-hb-step]')?.querySelector('input[data-hb-tick]');
    if (!bySteps.has(`${stem}.${step?.getAttribute('data-hb-tick')}`)) old.remove();
  }
  for (const [step, words] of bySteps) put(step.split('.')[1] ?? '', words);
}

/** @param {Card} card @param {import('../visit/card-types.js').CardLine} line */
function wordsOf(card, line) {
  const [block, from, text] = ['div', 'p', 'p'].map((tag) => document.createElement(tag));
  if (!block || !from || !text) throw new Error('The browser makes no elements.');
  block.className = 'hb-card-words';
  from.className = 'hb-card-words__from';
  const whose = card.invented ? 'Invented card' : 'Your card';
  from.textContent = `${whose} · instructions ${fromWords(card, line)}`;
  text.textContent = lineWords(line);
  block.append(from, text);
  return block;
}

/** @param {string} step @param {HTMLElement[]} words */
function put(step, words) {
  const tick = document.querySelector(`input[data-hb-tick="${CSS.escape(step)}"]`);
  const body = tick?.closest('[data-hb-step]')?.querySelector('.hb-task__body');
  if (!body) return;
  const old = body.querySelector(WORDS);
  if (old && old.textContent === words.map(({ textContent }) => textContent).join('')) return;
  const place = document.createElement('div');
  place.dataset.hbCardWords = '';
  place.setAttribute('role', 'note');
  place.append(...words);
  if (old) old.replaceWith(place);
  else body.insertBefore(place, body.querySelector(':scope > :is(.hb-task__read, .hb-task__more)'));
}
