import { writeLocal } from '../lib/local-storage.js';
import { PLACE, placeKept } from '../lib/place-kept.js';
import { presentVisit } from '../lib/present-visit.js';
import { addressHere, siteUrl } from '../lib/site-url.js';

/** @typedef {import('../lib/place-kept.js').Place} Place */

/**
 * Keeps the first step of this page that is not ticked, for the home page.
 *
 * @param {HTMLInputElement[]} boxes those of this page, in order
 */
export function keepPlace(boxes) {
  const next = boxes.find((box) => !box.checked);
  if (boxes.every((box) => !box.checked)) {
    // Ticks that were cleared leave no place; that of another procedure is no concern of this one.
    if (placeKept()?.address.split('#')[0] === addressHere('').slice(0, -1))
      writeLocal(PLACE, null);
    return;
  }
  const step = next?.closest('[data-hb-step]');
  const heading = step?.querySelector('h3, h4')?.textContent?.trim().replace(/\s+/g, ' ') ?? '';
  /** @type {Place} */
  const place = {
    title: document.querySelector('main h1')?.textContent?.trim() ?? '',
    step: step ? heading.replace(/^(\d+)/, 'Step $1:') : 'Every step is ticked.',
    address: addressHere(step?.id ?? 'finish'),
  };
  writeLocal(PLACE, JSON.stringify(place));
}

/** Shows on the home page where the reader was. */
export function showResume() {
  const part = document.querySelector('[data-hb-resume]');
  const link = part?.querySelector('[data-hb-resume-link]');
  const step = part?.querySelector('[data-hb-resume-step]');
  if (!(part instanceof HTMLElement) || !(link instanceof HTMLAnchorElement) || !step) return;
  const place = placeKept();
  part.hidden = place === null;
  if (!place) return;
  link.href = new URL(place.address, siteUrl()).href;
  link.textContent = place.title;
  step.textContent = place.step;
}

/** Shows on the home page which visit readings go into; visit/open-visit.js keeps that beside it. */
export function showOpenVisit() {
  const part = document.querySelector('[data-hb-visit-home]');
  if (!(part instanceof HTMLElement)) return;
  const visit = presentVisit();
  part.hidden = visit === null;
  const none = document.querySelector('[data-hb-visit-none]');
  if (none instanceof HTMLElement) none.hidden = visit !== null;
  const fill = (/** @type {string} */ name, /** @type {string} */ words) => {
    const place = part.querySelector(`[data-hb-visit-home-${name}]`);
    if (place) place.textContent = words;
  };
  delete document.documentElement.dataset.hbRoom; // kept before the first paint
  fill('name', visit?.name ?? '');
  fill('count', visit ? `${visit.readings} ${visit.readings === 1 ? 'reading' : 'readings'}` : '');
}

export function startResume() {
  document.addEventListener('click', (event) => {
    if (!(event.target instanceof Element)) return;
    if (!event.target.closest('[data-hb-resume-forget]')) return;
    writeLocal(PLACE, null);
    showResume();
    const heading = document.querySelector('main h1');
    if (heading instanceof HTMLElement) {
      heading.tabIndex = -1;
      heading.focus();
    }
  });
}
