/** Shows whether the readings fit: the word, what carries the doubt, what to take next, pictures. */

import { find, setText } from '../lib/find.js';
import { siteUrl } from '../lib/site-url.js';
import { shapeFor } from '../record/outcome-view.js';
import { FIT_WORDS } from '../visit/kept-fit.js';
import { interval, scaleOf } from './intervals.js';

/** @typedef {import('../protocol/bridge-types.js').Fit} Fit */
/** @typedef {import('../protocol/bridge-types.js').FitPicture} FitPicture */
/** @typedef {import('../protocol/bridge-types.js').ToTake} ToTake */

/** @type {Record<Fit['outcome'], string>} */
const SHAPES = { meets: 'within', does_not_meet: 'outside', cannot_tell: 'too_close' };

/** @param {HTMLElement} place @param {Fit} fit */
export function showFit(place, fit) {
  place.dataset.outcome = fit.outcome;
  find(place, '[data-hb-fit-shape]').replaceChildren(shapeFor(SHAPES[fit.outcome]));
  setText(find(place, '[data-hb-fit-word]'), FIT_WORDS[fit.outcome]);
  setText(find(place, '[data-hb-fit-text]'), [fit.text, fit.act].filter(Boolean).join(' '));
  const take = fit.take ? toTake(fit.take) : [];
  const parts = [
    ...list('What would explain it', fit.explained.map(plain)),
    ...list('Readings that carry the doubt', fit.doubt.map(doubted)),
    ...(take.length ? [paragraph('hb-fit__take', take)] : []),
    ...list('What would help most', fit.helpful.map(toTake)),
    ...(fit.unseen ? [fold('What could not have shown', paragraph('', [fit.unseen]))] : []),
    ...fit.pictures.map(picture),
  ];
  find(place, '[data-hb-fit-more]').replaceChildren(...parts);
  say(find(place, '[data-hb-fit-said]'), [FIT_WORDS[fit.outcome], fit.text, fit.take?.text ?? '']);
}

/** @param {HTMLElement} said */
export function showNoFit(said) {
  setText(said, 'The calculators did not answer. It is asked again when the visit changes.');
}

/** @param {HTMLElement} said read out once, politely @param {string[]} words */
function say(said, words) {
  setText(said, words.filter(Boolean).join('. ').replaceAll('..', '.'));
}

/** @param {string} text @returns {(Node | string)[]} */
const plain = (text) => [text];

/** @param {Fit['doubt'][number]} reading */
const doubted = ({ label, text }) => [text ? `${label}: ${text}` : label];

/** @param {ToTake} take @returns {(Node | string)[]} */
function toTake({ text, step }) {
  const [procedure, id] = step.split('.');
  if (!procedure || !id) return text ? [text] : [];
  const link = document.createElement('a');
  const anchor = `step-${id.replaceAll('_', '-')}`;
  link.href = new URL(`procedures/${procedure}.html#${anchor}`, siteUrl()).href;
  link.textContent = 'Go to the step';
  if (text) link.setAttribute('aria-label', `Go to the step: ${text}`);
  return text ? [text, ' ', link] : [link];
}

/** @param {string} title @param {(Node | string)[][]} items @returns {Node[]} */
function list(title, items) {
  if (!items.length) return [];
  const heading = document.createElement('h3');
  heading.textContent = title;
  const made = document.createElement('ul');
  made.className = 'hb-list';
  made.append(
    ...items.map((inside) => {
      const item = document.createElement('li');
      item.append(...inside);
      return item;
    }),
  );
  return [heading, made];
}

/** @param {string} name @param {(Node | string)[]} inside */
function paragraph(name, inside) {
  const made = document.createElement('p');
  made.className = name;
  made.append(...inside);
  return made;
}

/** @param {string} title @param {Node} body */
function fold(title, body) {
  const made = document.createElement('details');
  made.className = 'hb-fold';
  const summary = document.createElement('summary');
  summary.className = 'hb-fold__summary';
  summary.textContent = title;
  const inside = document.createElement('div');
  inside.className = 'hb-fold__body';
  inside.append(body);
  made.append(summary, inside);
  return made;
}

/** @param {FitPicture} picture a table: each row has its figure in words, and as an interval */
function picture({ title, rows }) {
  const table = document.createElement('table');
  table.className = 'hb-fit__picture';
  table.dataset.hbFitPicture = '';
  table.createCaption().textContent = title;
  const body = table.createTBody();
  const scale = scaleOf(rows);
  for (const row of rows) {
    const line = body.insertRow();
    const head = document.createElement('th');
    head.scope = 'row';
    head.textContent = row.label;
    const figure = document.createElement('b');
    figure.textContent = row.text;
    line.append(head);
    line.insertCell().append(figure, interval(row, scale));
  }
  return table;
}
