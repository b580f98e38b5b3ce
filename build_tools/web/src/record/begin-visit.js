import { openVisit } from '../visit/open-visit.js';
import { freeName, nameFor, newVisit, plainName } from '../visit/visit-name.js';
import { begin, overview } from '../visit/visit-store.js';

/**
 * Begins a visit and opens it.
 *
 * @param {string} typed name; nothing for "Visit of 26 November"
 * @returns {Promise<string>} the name that it has
 */
export async function beginVisit(typed) {
  return openVisit.act(async () => {
    const taken = (await overview()).visits.map(({ name }) => name);
    const own = plainName(typed);
    const visit = newVisit(own ? freeName(own, taken) : nameFor(new Date(), taken));
    await begin(visit);
    void navigator.storage?.persist?.().catch(() => {});
    return visit.name;
  });
}
