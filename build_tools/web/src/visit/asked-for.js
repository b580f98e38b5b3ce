/** Which readings are asked of an appliance: some are of one kind of burner or of flue alone. */

import { isRuledOut } from '../lib/which-checks.js';
import { openVisit } from './open-visit.js';
import { sureAnswers } from './visit-checks.js';

/** @typedef {import('../lib/which-checks.js').Fits} Fits */
/**
 * As `build_tools/pages/readings.py` writes them.
 *
 * @typedef {{only_for?: Record<string, Fits>, wrong?: string[], readings?: Record<string, unknown>}} Facts
 */

const AS_LEFT = /_left$/;

/** @returns {Facts} */
const facts = () => /** @type {{hbReadingFacts?: Facts}} */ (globalThis).hbReadingFacts ?? {};

/**
 * How a check was left is asked for once it was found not to be in order, as in record/as-left.js.
 *
 * @param {string} name
 */
function isOfNoFault(name) {
  const { readings = {}, wrong = [] } = facts();
  if (!AS_LEFT.test(name) || Object.hasOwn(readings, name)) return false;
  const found = openVisit.reading(name.replace(AS_LEFT, ''));
  return !found || !wrong.includes(found.value);
}

/**
 * Of the appliance that is worked on.
 *
 * @returns {(name: string) => boolean} where the answers say nothing against a reading, it is asked;
 *   one that was read all the same is not left out
 */
export function askedFor() {
  const [{ only_for: known = {} }, sure] = [facts(), sureAnswers()];
  return (name) =>
    Boolean(openVisit.reading(name)) || !(isRuledOut(known[name] ?? {}, sure) || isOfNoFault(name));
}
