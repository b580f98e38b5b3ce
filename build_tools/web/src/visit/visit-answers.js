/** The answers of the open visit: which gas, which flue and so on. */

import { openVisit } from './open-visit.js';

/** @typedef {import('../lib/which-checks.js').Answers} Answers */
/** @typedef {import('./visit-types.js').Entry} Entry */

/** @param {string} name of the question */
export const choiceKey = (name) => `choice:${name}`;

/**
 * @param {{entries: Entry[]}} [of] what an appliance has; without it the one that is worked on
 * @returns {Answers}
 */
export const answersNow = (of = openVisit) =>
  Object.fromEntries(
    of.entries.flatMap((each) => (each.kind === 'choice' ? [[each.name, each.value]] : [])),
  );

/**
 * Keeps the answers of a form in the open visit. Without one they stay in the form.
 *
 * @param {Answers} answers empty where the reader is not sure
 */
export async function keepAnswers(answers) {
  if (!openVisit.visit) return;
  const at = new Date().toISOString();
  const now = answersNow();
  const changed = Object.entries(answers).filter(([name, value]) => value !== (now[name] ?? ''));
  if (!changed.length) return;
  await openVisit.keep(
    (visit) =>
      changed
        .filter(([, value]) => value)
        .map(([name, value]) => ({
          ...{
            visit,
            key: choiceKey(name),
            kind: /** @type {const} */ ('choice'),
            name,
            value,
            at,
          },
        })),
    changed.filter(([, value]) => !value).map(([name]) => choiceKey(name)),
  );
}
