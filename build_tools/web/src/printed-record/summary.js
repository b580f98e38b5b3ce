/** The box under the plate: what was found outside, what was left so, and how much of it is within. */

import { shapeFor } from '../record/outcome-view.js';
import { box, words } from './marks.js';

/** @typedef {import('./lines.js').Check} Check */
/** @typedef {import('./marks.js').Unit} Unit */
/** @typedef {import('./printed-facts.js').Line} Line */

/**
 * @param {Line[]} lines
 * @param {Check[]} checks
 * @returns {Unit[]}
 */
export function summaryOf(lines, checks) {
  const judged = lines.filter(({ state }) => state);
  const wrong = checks.filter(({ isInOrder }) => !isInOrder);
  const isRight = (/** @type {Check} */ { state }) => state === 'within';
  const parts = [
    part('outside', 'Left outside', [
      ...judged.filter(({ left, state }) => state === 'outside' && left),
      ...wrong.filter(({ state }) => state === 'outside'),
    ]),
    part(
      'outside',
      'Found outside',
      judged.filter(({ left, state }) => state === 'outside' && !left),
    ),
    part('outside', 'Found outside, put right', [
      ...judged.filter(({ found, state }) => found?.state === 'outside' && state !== 'outside'),
      ...wrong.filter(isRight),
    ]),
    part(
      'too_close',
      'Too close to tell',
      judged.filter(({ state }) => state === 'too_close'),
    ),
    part(
      'not_judged',
      'Not judged',
      [...judged, ...checks].filter(({ state }) => state === 'not_judged' || state === 'refused'),
    ),
  ].filter((each) => each !== null);
  const within = judged.filter(
    ({ state, found }) => state === 'within' && found?.state !== 'outside',
  );
  const good = [...within, ...checks.filter((each) => isRight(each) && each.isInOrder)].length;
  if (!parts.length && !good) return [];
  const last = document.createElement('span');
  last.append(shapeFor('within'), words(`Within: ${good}.`, 'b'));
  // A reading whose step waits for another one is within nothing, and outside nothing.
  if (judged.length < lines.length) last.append(' A line without an outcome was not judged.');
  return [{ node: box('summary', ...parts, ...(good ? [last] : [])) }];
}

/** @param {string} state @param {string} title @param {{label: string}[]} those */
function part(state, title, those) {
  if (!those.length) return null;
  const made = document.createElement('span');
  const labels = those.map(({ label }) => label).join('; ');
  made.append(shapeFor(state), words(`${title}: ${those.length}.`, 'b'), ` ${labels}. `);
  return made;
}
