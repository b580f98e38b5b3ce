/** The foot of a procedure that is worked through: which step the reader is at, and the next. */

import { SHARED, storedKey } from '../lib/appliance-key.js';
import { setText } from '../lib/find.js';
import { applianceAt, ownerAt } from '../lib/present-visit.js';
import { readSession, writeSession } from '../lib/session-storage.js';
import { openAround } from './folds.js';
import { wayNow } from './ways.js';

const STEPS = '[data-hb-step]';

/** @type {HTMLElement | null} the step that was touched last, or that is shown alone */
let at = null;
/** The page and the appliance that it is the place of. */ let of = '';

/** @returns {HTMLElement[]} */
const steps = () =>
  [...document.querySelectorAll(STEPS)].map((step) => /** @type {HTMLElement} */ (step));

/** @param {HTMLElement} step */
const isTicked = (step) => step.querySelector('input[data-hb-tick]:checked') !== null;

/** @returns {string} of the appliance too: another one begins at its own first open step */
function key() {
  const page = document.querySelector('[data-hb-procedure]');
  return storedKey(`hb:step:${location.pathname}`, page ? ownerAt(page) : SHARED);
}

/** @param {HTMLElement[]} all @returns {HTMLElement | undefined} the step that the reader is at */
function here(all) {
  const last = at && all.includes(at) ? at : null;
  if (wayNow() === 'one') return last ?? all.find((step) => !isTicked(step)) ?? all[0];
  const from = last ? all.indexOf(last) : 0;
  const open = all.slice(from).find((step) => !isTicked(step));
  return open ?? last ?? all.find((step) => !isTicked(step)) ?? all.at(-1);
}

/** @param {HTMLElement[]} all @param {HTMLElement} now @returns {HTMLElement | undefined} */
function next(all, now) {
  const later = all.slice(all.indexOf(now) + 1);
  if (wayNow() === 'one') return later[0];
  const isOpen = (/** @type {HTMLElement} */ step) => step !== now && !isTicked(step);
  return later.find(isOpen) ?? all.find(isOpen);
}

/** Marks the step that the reader is at, and says it at the foot. */
export function showPlace() {
  const all = steps();
  if (at && (!all.includes(at) || of !== key())) at = null;
  of = key();
  if (!at) {
    const kept = readSession(key());
    at = all.find((step) => step.id === kept) ?? null;
  }
  const now = here(all);
  if (!now) return;
  for (const step of all) {
    step.toggleAttribute('data-hb-here', step === now);
    if (step === now) step.setAttribute('aria-current', 'step');
    else step.removeAttribute('aria-current');
  }
  for (const part of document.querySelectorAll('[data-hb-steps]'))
    part.toggleAttribute('data-hb-here', part.contains(now));
  document.querySelector('#steps')?.toggleAttribute('data-hb-last', now === all.at(-1));
  const following = next(all, now);
  const appliance = applianceAt(now);
  const step = appliance ? `${appliance}, step` : 'Step';
  tell('where', `${step} ${now.dataset.hbStep} of ${all.length}`);
  tell('next', following ? `Next: ${following.dataset.hbStep}` : 'Finish');
  const back = document.querySelector('[data-hb-foot-back]');
  if (back instanceof HTMLButtonElement) back.disabled = now === all[0];
}

/** @param {string} what @param {string} words */
function tell(what, words) {
  const place = document.querySelector(`[data-hb-foot-${what}]`);
  if (place) setText(place, words);
}

/** @param {HTMLElement | undefined} step nothing goes to what is to be done at the end */
function go(step) {
  if (step) {
    at = step;
    writeSession(key(), step.id);
    openPartOf(step);
    showPlace();
  }
  const target = step ?? document.querySelector('#finish');
  const part = wayNow() === 'one' ? target?.closest('[data-hb-steps]') : null;
  (part ?? target)?.scrollIntoView({ block: 'start' });
  // The focus goes along, or the next Tab would go back to where the reader was.
  const first = target?.querySelector('input[data-hb-tick]');
  if (first instanceof HTMLElement) first.focus({ preventScroll: true });
}

/** @param {HTMLElement} step whose part may be folded */
function openPartOf(step) {
  const part = step.closest('[data-hb-steps]');
  if (part?.hasAttribute('data-hb-done')) openAround(part);
}

/** @param {EventTarget | null} target */
function touched(target) {
  const step = target instanceof Element && target.closest(STEPS);
  if (!(step instanceof HTMLElement)) return;
  at = step;
  writeSession(key(), step.id);
  showPlace();
}

/** Whether this page was loaded anew or gone back to: then the reader is where they were. */
let isReturn = performance.getEntriesByType('navigation').some(isNoVisit);

/** @param {PerformanceEntry} loading */
function isNoVisit(loading) {
  return loading instanceof PerformanceNavigationTiming && loading.type !== 'navigate';
}

/** Whoever follows a link to a step, as from the search, is at that step, and it is shown. */
export function arriveAtStep() {
  const wasReturn = isReturn || typeof history.state?.top === 'number';
  isReturn = false;
  const step = wasReturn ? undefined : steps().find(({ id }) => `#${id}` === location.hash);
  if (!step) return;
  at = step;
  of = key();
  writeSession(of, step.id);
  openPartOf(step);
  showPlace();
  if (wayNow() === 'one') step.closest('[data-hb-steps]')?.scrollIntoView();
}

export function startPlace() {
  addEventListener('hashchange', arriveAtStep);
  document.addEventListener('focusin', ({ target }) => touched(target));
  document.addEventListener('change', ({ target }) => touched(target));
  document.addEventListener('hb:way', () => {
    showPlace();
    if (wayNow() === 'one')
      document.querySelector('[data-hb-steps][data-hb-here]')?.scrollIntoView();
  });
  document.addEventListener('click', ({ target }) => {
    if (!(target instanceof Element)) return;
    if (target.closest('[data-hb-ticks-clear]')) showPlace();
    const all = steps();
    const now = here(all);
    if (!now) return;
    if (target.closest('[data-hb-foot-next]')) go(next(all, now));
    if (target.closest('[data-hb-foot-back]')) go(all[all.indexOf(now) - 1] ?? now);
    const link = target.closest('a[href*="#step-"]');
    if (link instanceof HTMLAnchorElement && link.pathname === location.pathname)
      touched(document.getElementById(link.hash.slice(1)));
  });
}
