/** For working, one step to a screen, or for learning: how a procedure is read. */

import { readLocal, writeLocal } from '../lib/local-storage.js';
import { tellIfNotKept } from '../lib/setting-not-kept.js';

const KEY = 'hb:way';
const LEARNING = 'learning'; // as the page stands without a script
const FOLDING = new Set(['working', 'one']);
const CHOICES = '[data-hb-way-choice]';

/** @returns {string} how this page is read now */
export const wayNow = () => document.documentElement.dataset.hbWay ?? LEARNING;

/** @param {string} way */
function take(way) {
  if (FOLDING.has(way)) document.documentElement.dataset.hbWay = way;
  else delete document.documentElement.dataset.hbWay;
}

/** The buttons say which way is on. What they look like follows the page's own mark. */
export function showWay() {
  for (const choice of document.querySelectorAll(CHOICES)) {
    const isOn = choice.getAttribute('data-hb-way-choice') === wayNow();
    choice.setAttribute('aria-pressed', String(isOn));
  }
}

/** @param {Element} choice */
function choose(choice) {
  const way = choice.getAttribute('data-hb-way-choice') ?? LEARNING;
  take(way);
  showWay();
  const isKept = writeLocal(KEY, way === LEARNING ? null : way);
  if (choice.parentElement) tellIfNotKept(choice.parentElement, isKept);
  document.dispatchEvent(new CustomEvent('hb:way'));
}

export function startWays() {
  // A reader who comes from a page without steps has no mark yet: partials/javascripts/way.html.
  if (wayNow() === LEARNING) take(readLocal(KEY) ?? LEARNING);
  document.addEventListener('click', ({ target }) => {
    const choice = target instanceof Element && target.closest(CHOICES);
    if (choice) choose(choice);
  });
}
