/**
 * Beside a step a figure that this handbook does not hold: once the reader has typed it from a copy of
 * their own, it stands in place of "look there", with the edition and the day. One of an edition that
 * is not in force is named as laid aside, and shown as no figure.
 */

import { ownTold } from '../client/shared-client.js';
import { setText } from '../lib/find.js';
import { today, writtenDay } from '../lib/written-day.js';
import { ownFigures } from '../own/own-figures.js';

/** @typedef {import('../own/own-figures.js').OwnFigure} OwnFigure */
/** @typedef {import('../protocol/bridge-types.js').OwnReply['own']} Told */

/** @type {WeakMap<Element, string>} what stood there before */
const before = new WeakMap();
/** What was asked last, and what was told of it. */
let asked = '';
let shown = 0;
/** @type {Promise<Told>} */ let telling = Promise.resolve({});

const places = () =>
  /** @type {HTMLElement[]} */ ([...document.querySelectorAll('[data-hb-own-stated]')]);

export async function showOwnStated() {
  const there = places();
  if (!there.length) return;
  for (const place of there) if (!before.has(place)) before.set(place, place.textContent ?? '');
  const names = new Set(there.map(({ dataset }) => dataset.hbOwnStated));
  const own = ownFigures().filter(({ name }) => names.has(name));
  shown += 1;
  const mine = shown;
  // A page none of whose figures was typed needs no Python for them.
  const told = own.length ? await ask(own) : {};
  if (mine !== shown) return; // what was typed since is told by its own answer
  for (const place of there) {
    const figure = own.find(({ name }) => name === place.dataset.hbOwnStated);
    setText(place, wordsOf(place, figure, told));
  }
}

/** @param {OwnFigure[]} own @returns {Promise<Told>} nothing where Python did not answer */
function ask(own) {
  const request = { action: /** @type {const} */ ('own'), today: today(), own, instruments: [] };
  const about = JSON.stringify(request);
  if (about === asked) return telling;
  asked = about;
  telling = ownTold(request).then(
    (reply) => reply.own,
    () => {
      asked = ''; // asked again when the page is shown anew
      return {};
    },
  );
  return telling;
}

/** @param {HTMLElement} place @param {OwnFigure | undefined} figure @param {Told} told */
function wordsOf(place, figure, told) {
  const was = before.get(place) ?? '';
  const found = figure && told?.[figure.name];
  if (!figure || !found) return was;
  if (found.state !== 'used') return `${was} Yours from ${figure.edition}: ${found.text}`;
  const value = (figure.value ?? '').replaceAll(' ', '\u00a0');
  const day = writtenDay(figure.at.slice(0, 10));
  const from = ['your own copy', figure.edition, `typed on ${day}`].filter(Boolean).join(', ');
  return `${value} · ${from}`;
}
