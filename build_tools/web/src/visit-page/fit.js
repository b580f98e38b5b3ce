/**
 * Whether the readings of the appliance that is worked on fit each other. It is asked when this part
 * comes near, and again when the visit changes while it is there.
 */

import { digest } from '../lib/digest.js';
import { find } from '../lib/find.js';
import { askFit, fitRequest, REST_MS } from '../record/ask-fit.js';
import { keepFit } from '../record/keep-fit.js';
import { basisOf } from '../visit/kept-fit.js';
import { openVisit } from '../visit/open-visit.js';
import { showFit, showNoFit } from './fit-view.js';

const NEAR = '300px';

/** @type {WeakSet<Element>} parts that are watched */
const watched = new WeakSet();
/** @type {WeakSet<Element>} parts that have come near */
const wanted = new WeakSet();
/** @type {WeakMap<Element, string>} what each part was asked about last */
const asked = new WeakMap();
/** @type {ReturnType<typeof setTimeout> | undefined} */ let resting;

const seen = new IntersectionObserver(
  (all) => {
    for (const { target, isIntersecting } of all) {
      if (!isIntersecting) continue;
      wanted.add(target);
      seen.unobserve(target);
      void ask();
    }
  },
  { rootMargin: NEAR },
);

export function startFit() {
  document.addEventListener('hb:page', watch);
  document.addEventListener('hb:visit', () => {
    watch();
    clearTimeout(resting);
    resting = setTimeout(() => void ask(), REST_MS);
  });
  watch();
}

/** @returns {HTMLElement | null} */
const part = () => document.querySelector('[data-hb-fit]');

function watch() {
  const place = part();
  if (!place || watched.has(place) || !openVisit.isRead) return;
  watched.add(place);
  seen.observe(place);
}

async function ask() {
  const place = part();
  if (!place || !wanted.has(place) || !openVisit.isRead || !openVisit.visit) return;
  const { appliance } = openVisit;
  const [question, basis] = [fitRequest(appliance), basisOf(openVisit.of(appliance).entries)];
  const about = digest(JSON.stringify([openVisit.visit.id, appliance, question]));
  if (asked.get(place) === about) return;
  asked.set(place, about);
  try {
    const fit = await askFit(question);
    if (asked.get(place) !== about || !place.isConnected) return;
    showFit(place, fit);
    await keepFit(fit, appliance, basis);
  } catch {
    if (asked.get(place) !== about) return;
    asked.delete(place); // asked again at the next change
    showNoFit(find(place, '[data-hb-fit-said]'));
  }
}
