/** Brings visits in from a file. Nothing that is here is ever changed by it. */

import { beside, textOf } from './bring-in.js';
import { openVisit } from './open-visit.js';
import { readVisits } from './read-file.js';
import { addWhole, everything } from './visit-store.js';
import { fieldsOf, wholeVisit } from './whole-visit.js';

/** @typedef {import('./bring-in.js').Imported} Imported */
/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */

/** @param {File} file @returns {Promise<Imported>} */
export async function importVisits(file) {
  const { text, refused } = await textOf(file, 'visits');
  if (refused) return refused;
  const { file: read, problems } = readVisits(text);
  if (problems) return { words: [], problems };
  return openVisit.act(async () => {
    const { visits, entries } = await everything();
    const { added, words } = beside(read.visits, visits, (twin, visit) => {
      const own = entries.filter((each) => each.visit === twin.id);
      return same(
        wholeVisit(twin, own, () => ''),
        visit,
      );
    });
    const fields = added.map(fieldsOf);
    await addWhole(
      fields.map(({ visit }) => visit),
      fields.flatMap((each) => each.entries),
    );
    return { words };
  });
}

/**
 * Whether two visits hold the same, in whatever order, under whatever name and label. What steps say
 * of readings follows from these.
 *
 * @param {WholeVisit} one
 * @param {WholeVisit} other
 */
function same(one, other) {
  const held = (/** @type {WholeVisit} */ whole) =>
    JSON.stringify([
      whole.appliances.map(({ id, name }) => [id, name]).sort(),
      whole.readings
        .map(({ appliance, name, value, unit }) => [appliance, name, value, unit])
        .sort(),
      whole.choices.map(({ appliance, name, value }) => [appliance, name, value]).sort(),
      whole.checks
        .map(({ appliance, name, state, reason }) => [appliance, name, state, reason])
        .sort(),
      whole.ticks.map(({ appliance, procedure, step }) => [appliance, procedure, step]).sort(),
      whole.notes.map(({ appliance, name, text }) => [appliance, name, text]).sort(),
      whole.answers.map(({ appliance, at, calculator }) => [appliance, at, calculator]).sort(),
    ]);
  return held(one) === held(other);
}
