/** The steps of a procedure as sheets: what is done and what can hurt; then why, and what if. */

import { make } from '../practice/elements.js';

const STEPS = '[data-hb-step]';
// What can hurt is never kept for later, nor is an "if" that says to stop.
const AT_ONCE = ['.hb-warning', '.hb-host', '.hb-diagram'];
const LATER = ['.hb-task__limits', '.hb-task__why'];
const IFS = '.hb-task__ifs';

/** @returns {HTMLElement[]} */
const steps = () =>
  [...document.querySelectorAll(STEPS)].filter((each) => each instanceof HTMLElement);

/** @returns {number} the step that the reader is at */
export const stepHere = () =>
  Math.max(
    0,
    steps().findIndex((step) => step.hasAttribute('aria-current')),
  );

/** @param {number} number @returns {import('./large-view.js').Sheet | null} */
export function sheetOf(number) {
  const all = steps();
  const step = all[number];
  if (!step) return null;
  const words = step.querySelector('.hb-task__do')?.textContent ?? '';
  const stops = step.hasAttribute('data-hb-stops');
  const title = document.querySelector('h1')?.textContent ?? '';
  return {
    where: `${title} · step ${number + 1} of ${all.length}`,
    shown: [
      make('p', { text: words, is: 'hb-large__main' }),
      ...copies(step, stops ? [...AT_ONCE, IFS] : AT_ONCE),
    ],
    answer: copies(step, stops ? LATER : [...LATER, IFS]),
  };
}

/** @param {Element} step @param {string[]} parts @returns {Node[]} */
function copies(step, parts) {
  return parts.flatMap((part) => [...step.querySelectorAll(part)].map(copyOf));
}

/** @param {Element} part what is linked to stays the one in the page */
function copyOf(part) {
  const copy = /** @type {Element} */ (part.cloneNode(true));
  for (const each of [copy, ...copy.querySelectorAll('[id]')]) each.removeAttribute('id');
  for (const fold of copy.querySelectorAll('details')) fold.open = true;
  if (copy instanceof HTMLDetailsElement) copy.open = true;
  return copy;
}
