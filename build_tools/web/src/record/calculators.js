/** What the visit record adds to each calculator of the page: fill from it, keep in it. */

import { setText } from '../lib/find.js';
import { siteUrl } from '../lib/site-url.js';
import { openVisit } from '../visit/open-visit.js';
import { typedReading } from '../visit/reading-text.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { canFill, fillFromVisit, followVisit } from './fill-from-visit.js';
import { keepInRecord } from './keep-in-record.js';

/** @typedef {import('../calculator/calculator-element.js').CalculatorElement} Calculator */
/** @typedef {import('./keep-in-record.js').Done} Done */

/** @type {WeakMap<Calculator, ReturnType<typeof addParts>>} */
const known = new WeakMap();

export function showCalculators() {
  if (!openVisit.isRead) return;
  for (const found of document.querySelectorAll('hb-calculator')) {
    const root = /** @type {Calculator} */ (found);
    if (!root.querySelector('[data-hb-form]:not([hidden])')) continue;
    const parts = known.get(root) ?? addParts(root);
    known.set(root, parts);
    parts.show();
  }
}

export function startCalculators() {
  document.addEventListener('hb:settled', ({ target }) => {
    const root = /** @type {Calculator} */ (target);
    if (!known.has(root)) showCalculators();
    known.get(root)?.settled();
  });
  // A calculator that has come to another step takes other readings there.
  document.addEventListener('click', ({ target }) => {
    if (target instanceof Element && target.closest('[data-hb-move-calculator]')) showCalculators();
  });
  document.addEventListener('submit', ({ target }) => {
    if (target instanceof HTMLElement && target.matches('[data-hb-ask]')) void keepAsked(target);
  });
}

/** @param {Calculator} root */
function addParts(root) {
  const fill = button('Fill from this visit', 'fill-visit');
  const filled = status();
  const inStep = root.closest('[data-hb-step]') !== null;
  // In a step what was read there goes in first. Elsewhere it stands beside the other way to fill.
  if (inStep) root.querySelector('[data-hb-summary]')?.after(fill, filled);
  else {
    root.querySelector('[data-hb-fill-example]')?.after(fill);
    root.querySelector('.hb-form__buttons')?.after(filled);
  }
  fill.addEventListener('click', () => setText(filled, fillFromVisit(root)));
  const follow = () => {
    const words = followVisit(root);
    if (words) setText(filled, words);
  };
  root.addEventListener('change', follow);

  const bar = document.createElement('div');
  bar.className = 'hb-keep';
  bar.dataset.hbKeepBar = '';
  const keep = button('Keep in the record', 'keep');
  const said = status();
  const acts = document.createElement('p');
  acts.className = 'hb-visit__acts';
  bar.append(keep, said, acts);
  keep.addEventListener('click', () => void keepNow(root, said, acts));
  return {
    show() {
      fill.hidden = !canFill(root);
      follow();
    },
    settled() {
      acts.replaceChildren();
      setText(said, '');
      bar.hidden = !root.settled;
      const card = root.querySelector('.hb-result__card');
      // The example, when it comes back, brings a card of its own.
      if (root.settled && bar.parentElement !== card) card?.append(bar);
    },
  };
}

/** @param {Calculator} root @param {HTMLElement} said @param {HTMLElement} acts */
async function keepNow(root, said, acts) {
  acts.replaceChildren();
  try {
    const done = await keepInRecord(root);
    setText(said, done.words);
    acts.append(...offers(done, said, acts));
  } catch (error) {
    setText(said, storageErrorWords(storageErrorOf(error)));
  }
}

/**
 * What may be wanted next: the record, or another figure in it.
 *
 * @param {Done} done
 * @param {HTMLElement} said
 * @param {HTMLElement} acts
 */
function offers({ fresh, other }, said, acts) {
  /** @type {(words: string, name: string, act: () => Promise<void>, after: string) => HTMLElement} */
  const offer = (words, name, act, after) => {
    const made = button(words, name);
    made.addEventListener('click', () => {
      acts.replaceChildren(toRecord());
      act().then(
        () => setText(said, after),
        (error) => setText(said, storageErrorWords(storageErrorOf(error))),
      );
    });
    return made;
  };
  const out = () => openVisit.keepReadings(fresh.map((each) => ({ ...each, value: '' })));
  const anew = () => openVisit.keepReadings(other);
  return [
    toRecord(),
    ...(fresh.length
      ? [
          offer(
            'Take these readings out',
            'keep-out',
            out,
            'The answer is kept, without its readings.',
          ),
        ]
      : []),
    ...(other.length
      ? [offer('Put the new figures in', 'keep-anew', anew, 'The record has the new figures.')]
      : []),
  ];
}

function toRecord() {
  const link = document.createElement('a');
  link.className = 'hb-button';
  link.href = new URL('record/visit.html', siteUrl()).href;
  link.textContent = 'See the record';
  return link;
}

/** @param {HTMLElement} form the questions at the end of a timer */
async function keepAsked(form) {
  const asked = [...form.querySelectorAll('input[data-hb-reading]')].flatMap((each) => {
    const { value, dataset, labels } = /** @type {HTMLInputElement} */ (each);
    const typed = typedReading(value, each.nextSibling?.textContent?.trim() ?? '');
    const label = labels?.[0]?.textContent ?? '';
    return typed.value ? [{ name: dataset.hbReading ?? '', label, ...typed }] : [];
  });
  const said = form.querySelector('[data-hb-said]');
  await openVisit.keepReadings(asked).catch((error) => {
    if (said) setText(said, storageErrorWords(storageErrorOf(error)));
  });
}

/** @param {string} words @param {string} name */
function button(words, name) {
  const made = document.createElement('button');
  Object.assign(made, { type: 'button', className: 'hb-button', textContent: words });
  made.setAttribute(`data-hb-${name}`, '');
  return made;
}

function status() {
  const words = document.createElement('p');
  words.className = 'hb-kept hb-kept--line';
  words.setAttribute('role', 'status');
  return words;
}
