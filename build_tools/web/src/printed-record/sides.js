/** Lays units out on sides of A4: as many to a side as there is room for. */

import { box, words } from './marks.js';

/** @typedef {import('./marks.js').Unit} Unit */

const WANTED = 2; // the two sides of one sheet

/**
 * Where one sheet would hold them if its lines stood closer, they do. What is longer keeps its air.
 *
 * @param {HTMLElement} place in which the sides are measured: laid out, whether seen or not
 * @param {{head: string, title: string, foot: string}} told on each side
 * @param {Unit[]} units
 */
export function laySides(place, told, units) {
  const laid = sidesOf(place, told, units, false);
  if (laid.length <= WANTED) return;
  for (const side of laid) side.remove();
  const close = sidesOf(place, told, units, true);
  if (close.length <= WANTED) return;
  for (const side of close) side.remove();
  sidesOf(place, told, units, false);
}

/**
 * @param {HTMLElement} place
 * @param {{head: string, title: string, foot: string}} told
 * @param {Unit[]} units
 * @param {boolean} isClose
 * @returns {HTMLElement[]}
 */
function sidesOf(place, told, units, isClose) {
  /** @type {{side: HTMLElement, body: HTMLElement, right: HTMLElement}[]} */ const sides = [];
  const turn = () => {
    const right = words(told.title);
    const body = box('body');
    const side = box(
      'side',
      box('head', words(told.head, 'b'), right),
      body,
      box('foot', words(told.foot)),
    );
    side.toggleAttribute('data-hb-close', isClose);
    place.append(side);
    sides.push({ side, body, right });
    return body;
  };
  let body = turn();
  const heads = units.filter(({ node }) => node.classList.contains('hb-printed__row--head'));
  for (const [number, unit] of units.entries()) {
    if (unit.side2 && sides.length === 1 && body.childElementCount) body = turn();
    body.append(unit.node);
    if (body.scrollHeight <= body.clientHeight || body.childElementCount === 1) continue;
    const next = turn();
    if (unit.isReading && heads[0]) next.append(heads[0].node.cloneNode(true));
    next.append(...keptWith(units, number).map(({ node }) => node));
    body = next;
  }
  for (const [number, { right }] of sides.entries()) {
    const continued = number > 1 ? ', continued' : '';
    right.textContent = `${told.title} · side ${number + 1} of ${sides.length}${continued}`;
  }
  return sides.map(({ side }) => side);
}

/** @param {Unit[]} units @param {number} last @returns {Unit[]} it, with the headings just before it */
function keptWith(units, last) {
  let first = last;
  while (first > 0 && units[first - 1]?.keep && !isHead(units[first - 1])) first -= 1;
  return units.slice(first, last + 1);
}

/** @param {Unit | undefined} unit */
const isHead = (unit) => unit?.node.classList.contains('hb-printed__row--head') ?? false;
