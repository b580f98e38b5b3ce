/**
 * Which appliance the readings are of, where a visit has several: nobody writes the reading of one to
 * another. It stands on the record's page, above the steps, at their foot and over each reading.
 */

import { setText } from '../lib/find.js';
import { isShared } from '../visit/appliances.js';
import { chooseAppliance } from '../visit/change-appliances.js';
import { openVisit } from '../visit/open-visit.js';
import { visitChecks } from '../visit/visit-checks.js';

const SWITCH = '[data-hb-appliances]';
const CHOICE = '[data-hb-appliance]';

export function showAppliances() {
  if (!openVisit.isRead) return;
  for (const place of places()) fill(place);
  nameReadings();
}

/** @returns {HTMLElement[]} on a procedure that takes readings of an appliance it is made here */
function places() {
  const found = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(SWITCH)]);
  const page = document.querySelector('[data-hb-procedure]');
  const heading = document.querySelector('#steps > h2');
  const isOwn = page && !page.hasAttribute('data-hb-shared');
  if (found.length || !isOwn || !heading || !page.querySelector('#steps li[data-hb-reading]')) {
    return found;
  }
  const place = document.createElement('div');
  place.className = 'hb-appliances';
  place.dataset.hbAppliances = '';
  place.setAttribute('role', 'group');
  place.setAttribute('aria-label', 'Readings are of');
  heading.after(place);
  return [place];
}

/** @param {HTMLElement} place */
function fill(place) {
  const { appliances } = openVisit;
  place.hidden = appliances.length < 2;
  if (place.hidden) {
    place.replaceChildren();
    return;
  }
  const there = new Map(
    /** @type {HTMLElement[]} */ ([...place.querySelectorAll(CHOICE)]).map((each) => [
      each.dataset.hbAppliance,
      each,
    ]),
  );
  // What stays is not made anew: the focus would be lost.
  const buttons = appliances.map(({ id, name }) => {
    const button = there.get(id) ?? choice(id);
    const [title, about] = [...button.children];
    if (title && about) {
      setText(title, name);
      setText(about, countOf(id));
    }
    button.setAttribute('aria-pressed', String(id === openVisit.appliance));
    return button;
  });
  if (
    buttons.some((button, number) => place.children[number] !== button) ||
    there.size !== buttons.length
  )
    place.replaceChildren(...buttons);
}

/** @param {string} id */
function choice(id) {
  const button = document.createElement('button');
  button.type = 'button';
  button.dataset.hbAppliance = id;
  button.append(document.createElement('b'), document.createElement('span'));
  return button;
}

/** @param {string} id @returns {string} how many of its own checks are closed */
function countOf(id) {
  const own = visitChecks(openVisit.of(id)).filter(({ isForAll }) => !isForAll);
  const closed = own.filter(({ state }) => state === 'done' || state === 'left_out').length;
  return `${closed} of ${own.length} checks`;
}

/** Above each list of readings, since the steps are long: what all share says nothing. */
function nameReadings() {
  const name = openVisit.applianceName;
  const lists = document.querySelectorAll(
    '[data-hb-procedure]:not([data-hb-shared]) .hb-task__readings',
  );
  for (const list of lists) {
    const reading = list.querySelector('li[data-hb-reading]')?.getAttribute('data-hb-reading');
    const isOwn = name && reading && !isShared(`reading:${reading}`);
    if (isOwn) {
      list.setAttribute('data-hb-reading-of', name);
      list.setAttribute('aria-label', name);
    } else if (list.hasAttribute('data-hb-reading-of')) {
      list.removeAttribute('data-hb-reading-of');
      list.removeAttribute('aria-label');
    }
  }
}

export function startAppliances() {
  document.addEventListener('click', ({ target }) => {
    const button = target instanceof Element && target.closest(CHOICE);
    if (!(button instanceof HTMLElement)) return;
    void chooseAppliance(button.dataset.hbAppliance ?? '').catch(() => {});
  });
}
