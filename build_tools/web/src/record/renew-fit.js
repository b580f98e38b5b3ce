/**
 * Where readings have changed since it was worked out whether they fit, it is worked out anew on the
 * page of the record too: it may be looked at, or printed, without the page of the visit. Until then
 * neither shows what no longer holds: see `withoutOldFit`.
 */

import { basisOf, keptFit } from '../visit/kept-fit.js';
import { openVisit } from '../visit/open-visit.js';
import { askFit, fitRequest, REST_MS } from './ask-fit.js';
import { keepFit } from './keep-fit.js';

/** @type {ReturnType<typeof setTimeout> | undefined} */ let resting;
/** @type {Map<string, string>} by appliance: what was asked last. The same has the same answer. */
const asked = new Map();

/** Once readings have come to rest. */
export function renewFits() {
  clearTimeout(resting);
  resting = setTimeout(() => void renewAll(), REST_MS);
}

async function renewAll() {
  if (!openVisit.visit || openVisit.storageError) return;
  for (const { id } of openVisit.appliances) {
    if (keptFit(openVisit.of(id))?.isOlder) await renew(id).catch(() => asked.delete(id));
  }
}

/** @param {string} appliance */
async function renew(appliance) {
  const [question, basis] = [fitRequest(appliance), basisOf(openVisit.of(appliance).entries)];
  const about = JSON.stringify([openVisit.visit?.id, question]);
  if (asked.get(appliance) === about) return;
  asked.set(appliance, about);
  const fit = await askFit(question);
  // What was typed meanwhile is asked about by itself.
  if (asked.get(appliance) === about) await keepFit(fit, appliance, basis);
}
