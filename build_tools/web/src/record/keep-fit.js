/** Keeps with the visit whether its readings fit, as it stood last: for paper and for a file. */

import { thisEdition } from '../lib/edition.js';
import { answerKey, sameAnswer } from '../visit/kept-answer.js';
import { FIT, FIT_WHERE, FIT_WORDS, keptFit } from '../visit/kept-fit.js';
import { openVisit } from '../visit/open-visit.js';

/** @typedef {import('../protocol/bridge-types.js').Fit} Fit */
/** @typedef {import('../visit/visit-types.js').KeptAnswer} KeptAnswer */

/** Where too little was read there is nothing to keep. */
const NOTHING = new Set([
  ...['too_few', 'no_burner', 'other_burner', 'no_gas', 'other_gas', 'other_appliance'],
]);

/**
 * @param {Fit} fit
 * @param {string} appliance that it is of
 * @param {string} basis of what was asked, see kept-fit.js
 */
export async function keepFit(fit, appliance, basis) {
  const there = openVisit.of(appliance);
  const before = keptFit(there);
  const next = NOTHING.has(fit.reason) ? null : answerOf(fit);
  if (before && next && sameAnswer(before.answer, next) && !before.isOlder) return;
  if (!before && !next) return;
  await openVisit.keep(
    (visit) =>
      next
        ? [{ visit, key: answerKey(next), kind: /** @type {const} */ ('answer'), basis, ...next }]
        : [],
    before ? [answerKey(before.answer)] : [],
    appliance,
  );
}

/** @param {Fit} fit @returns {KeptAnswer} */
function answerOf({ outcome, text, act, explained, take }) {
  const told = [text, ...(outcome === 'meets' ? [] : [...explained, take?.text ?? ''])];
  const none = { limit: '', source: '', edition: '', provenance: '', in_force: '' };
  const words = [...told, outcome === 'meets' ? act : ''].filter(Boolean).join(' ');
  return {
    ...{ calculator: FIT, title: 'Do the readings fit each other?', where: FIT_WHERE },
    ...{ edition: thisEdition()?.name ?? '', at: new Date().toISOString() },
    ...{ inputs: [], answers: [] },
    verdicts: [{ label: FIT_WORDS[outcome], outcome, text: words, ...none }],
  };
}
