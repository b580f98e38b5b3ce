/** What a visit keeps of whether its readings fit each other. */

import { SHARED } from '../lib/appliance-key.js';
import { digest } from '../lib/digest.js';
import { ownerOf } from './appliances.js';

/** @typedef {import('./appliances.js').ApplianceEntries} ApplianceEntries */
/** @typedef {import('./visit-types.js').Entry} Entry */
/** @typedef {Extract<Entry, {kind: 'answer'}>} Answer */

export const FIT = 'cross_check';
/** The page that keeps it by itself: one that was kept by hand stays as it is. */
export const FIT_WHERE = 'Checks in order';

/** @type {Record<import('../protocol/bridge-types.js').Fit['outcome'], string>} */
export const FIT_WORDS = {
  meets: 'They fit',
  does_not_meet: 'They do not fit',
  cannot_tell: 'Can’t tell with these readings',
};

/** @param {Entry} entry @returns {entry is Answer} */
const isFit = (entry) =>
  entry.kind === 'answer' && entry.calculator === FIT && entry.where === FIT_WHERE;

/**
 * @param {ApplianceEntries} of
 * @returns {{answer: Answer, isOlder: boolean} | null} `isOlder` than something that it rests on
 */
export function keptFit({ entries }) {
  const answer = entries.find(isFit);
  return answer ? { answer, isOlder: isOlder(answer, entries) } : null;
}

/**
 * What a fit rests on: another text once a reading or an answer of the visit is another.
 *
 * @param {Entry[]} entries of its appliance, and what all share
 * @returns {string}
 */
export const basisOf = (entries) =>
  digest(JSON.stringify(entries.flatMap((each) => (isBasis(each) ? [said(each)] : [])).sort()));

/** @typedef {Extract<Entry, {kind: 'reading' | 'choice'}>} Basis */

/** @param {Entry} entry @returns {entry is Basis} */
const isBasis = (entry) => entry.kind === 'reading' || entry.kind === 'choice';

/** @param {Basis} entry */
const said = (entry) =>
  JSON.stringify([entry.kind, entry.name, entry.value, entry.kind === 'reading' ? entry.unit : '']);

/**
 * By what is read, and not by the clock: one that is ahead would make each answer too old for good.
 * A file says only when each was written.
 *
 * @param {Answer} answer
 * @param {Entry[]} all its appliance's entries, and what all share
 */
const isOlder = (answer, all) =>
  answer.basis === undefined
    ? all.some((each) => isBasis(each) && Date.parse(each.at) > Date.parse(answer.at))
    : answer.basis !== basisOf(all);

/**
 * What readings fitted before one of them changed says nothing of those that are there now.
 *
 * @param {Entry[]} entries
 * @param {Entry[]} [all] of the visit
 * @returns {Entry[]} without it
 */
export const withoutOldFit = (entries, all = entries) =>
  entries.filter((each) => {
    const owners = new Set([ownerOf(each), SHARED]);
    return (
      !isFit(each) ||
      !isOlder(
        each,
        all.filter((other) => owners.has(ownerOf(other))),
      )
    );
  });
