/** Which readings are asked of an appliance: some are of one kind of burner or of flue alone. */

import { isRuledOut } from '../lib/which-checks.js';
import { openVisit } from './open-visit.js';
import { sureAnswers } from './visit-checks.js';

/** @typedef {import('../lib/which-checks.js').Fits} Fits */
/** @typedef {{only_for?: Record<string, Fits>}} Facts as `build_tools/pages/readings.py` writes them */

/** @returns {Record<string, Fits>} */
function onlyFor() {
  const { hbReadingFacts } = /** @type {{hbReadingFacts?: Facts}} */ (globalThis);
  return hbReadingFacts?.only_for ?? {};
}

/**
 * Of the appliance that is worked on.
 *
 * @returns {(name: string) => boolean} where the answers say nothing against a reading, it is asked;
 *   one that was read all the same is not left out
 */
export function askedFor() {
  const [known, sure] = [onlyFor(), sureAnswers()];
  return (name) => Boolean(openVisit.reading(name)) || !isRuledOut(known[name] ?? {}, sure);
}
