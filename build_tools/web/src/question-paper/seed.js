/** A seed that is drawn here, and the address of a paper. */

import { thisEdition } from '../lib/edition.js';

const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789'; // none looks like another when written by hand
const LENGTH = 6;

/** A seed that nobody has typed. */
export const newSeed = () => newSign(LENGTH);

/** @param {number} length */
export function newSign(length) {
  const drawn = crypto.getRandomValues(new Uint32Array(length));
  return [...drawn].map((each) => SIGNS[each % SIGNS.length]).join('');
}

/**
 * What somebody types for one, as a seed: `week-9` for "Week 9". Empty where they typed nothing.
 *
 * @param {string} text
 */
export const asSeed = (text) =>
  text
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-');

/** `2026-11-28-abc1234`: this edition, as it stands in an address. */
export const editionHere = () => (thisEdition()?.name ?? '').replaceAll(' ', '-');

/**
 * Whether a paper that was set with this edition is the same here. The day alone changes nothing.
 *
 * @param {string} edition as it stands in an address
 */
export const isThisEdition = (edition) =>
  edition.split('-').at(-1) === editionHere().split('-').at(-1);

/**
 * Where a lecturer sees how the class did.
 *
 * @param {{paper: string, seed: string}} of the paper, and the seed of all or the lecturer's own
 */
export function resultsAddress({ paper, seed }) {
  const address = new URL('results.html', location.href);
  address.search = new URLSearchParams({ paper, seed, edition: editionHere() }).toString();
  return address.href;
}

/**
 * The address of a paper, for whoever is to sit it.
 *
 * @param {{paper: string, seed: string}} of
 */
export function addressOf({ paper, seed }) {
  const address = new URL(location.href);
  address.hash = '';
  address.search = new URLSearchParams({ paper, seed, edition: editionHere() }).toString();
  return address.href;
}
