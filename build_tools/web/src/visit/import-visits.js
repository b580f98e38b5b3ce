/** Brings visits in from a file. Nothing that is here is ever changed by it. */

import { openVisit } from './open-visit.js';
import { LARGEST_BYTES, readVisits } from './read-file.js';
import { freeName, newId } from './visit-name.js';
import { addWhole, everything } from './visit-store.js';
import { fieldsOf, wholeVisit } from './whole-visit.js';

/** @typedef {import('./schema-check.js').Problem} Problem */
/** @typedef {import('./visit-types.js').WholeVisit} WholeVisit */
/** @typedef {{words: string[], problems?: Problem[]}} Imported */

/** @param {number} bytes @returns {Imported | null} */
export function tooLarge(bytes) {
  if (bytes <= LARGEST_BYTES) return null;
  const [found, most] = [bytes, LARGEST_BYTES].map((each) => `${(each / 1e6).toFixed(1)} MB`);
  const fix = 'Export fewer visits at a time.';
  return {
    words: [],
    problems: [{ where: 'the file', found: `${found}`, expected: `at most ${most}`, fix }],
  };
}

/** @param {string} text @returns {Promise<Imported>} */
export async function importText(text) {
  const { file, problems } = readVisits(text);
  if (problems) return { words: [], problems };
  return openVisit.act(async () => {
    const here = await everything();
    const names = here.visits.map(({ name }) => name);
    /** @type {WholeVisit[]} */ const added = [];
    const words = file.visits.map((visit) => {
      const twin = here.visits.find(({ id }) => id === visit.id);
      const own =
        twin &&
        wholeVisit(
          twin,
          here.entries.filter((each) => each.visit === twin.id),
          () => '',
        );
      if (own && same(own, visit)) return `“${visit.name}” is here already, just the same.`;
      const name = freeName(visit.name, names);
      names.push(name);
      added.push({ ...visit, name, id: twin ? newId() : visit.id });
      return twin
        ? `“${visit.name}” is here already, and differs. Both are kept: the one from the file is “${name}”.`
        : `“${name}” is imported.`;
    });
    const fields = added.map(fieldsOf);
    await addWhole(
      fields.map(({ visit }) => visit),
      fields.flatMap(({ entries }) => entries),
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
