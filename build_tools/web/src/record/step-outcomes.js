/** Each step answers what is typed in it, while it is typed. */

import { LatestRequest } from '../calculator/latest-request.js';
import { outcomes } from '../client/shared-client.js';
import { keptStill } from '../lib/kept-still.js';
import { today } from '../lib/written-day.js';
import { withOwn } from '../own/with-own.js';
import { openVisit } from '../visit/open-visit.js';
import { typedReading } from '../visit/reading-text.js';
import { answersNow } from '../visit/visit-answers.js';
import { keepHeight, showOutcome } from './outcome-view.js';
import { WordChoice } from './word-choice.js';

/** @typedef {import('../protocol/bridge-types.js').OutcomesRequest} OutcomesRequest */
/** @typedef {import('../protocol/bridge-types.js').OutcomesReply} OutcomesReply */

const OTHERS_MS = 300; // typing rests this long: the other steps of the page follow
const SAY_MS = 800; // and this long: what is read out is said once

/** @type {Map<string, {value: string, unit: string}>} what stands in a field and is not kept yet */
const live = new Map();
/** @type {ReturnType<typeof setTimeout> | undefined} */ let others;
/** @type {ReturnType<typeof setTimeout> | undefined} */ let saying;
/** @type {HTMLElement | null} a line that was to be read out before it was there */ let unsaid =
  null;

/**
 * What all steps were asked with last, and the first of them, where that answer stands or is on its
 * way. When typing rests, what is kept is what was asked about just then: it is not asked again.
 */
const last = { question: '', place: /** @type {HTMLElement | undefined} */ (undefined) };

/** @type {LatestRequest<OutcomesRequest, OutcomesReply>} */
const questions = new LatestRequest(
  (request, tellFirst) => outcomes(request, tellFirst),
  ({ reply }) => {
    if (!reply?.outcomes) last.question = ''; // nothing stands: the same may be asked anew
    keptStill(() => show(reply));
  },
  ({ first }) => keptStill(() => show(first)),
  () => {},
);

/** @returns {HTMLElement[]} */
const places = () => [...document.querySelectorAll('[data-hb-outcome]')].map(asElement);

/** @param {Element} found */
const asElement = (found) => /** @type {HTMLElement} */ (found);

/** @param {OutcomesReply | undefined} reply without one the steps stay as they are */
function show(reply) {
  for (const place of places()) {
    const outcome = reply?.outcomes?.[place.dataset.hbOutcome ?? ''];
    if (outcome) showOutcome(place, outcome);
  }
  if (unsaid && !unsaid.hidden) say(unsaid);
  for (const watch of document.querySelectorAll('[data-hb-ahead]')) {
    const { dataset } = asElement(watch);
    const outcome = reply?.outcomes?.[dataset.hbAhead ?? ''];
    if (outcome?.ahead) dataset.hbRun = JSON.stringify(outcome.ahead);
    else if (outcome) delete dataset.hbRun;
  }
}

/** What the visit holds, with what is being typed. */
export function readingsNow() {
  const kept = openVisit.entries.flatMap((each) =>
    each.kind === 'reading' ? [[each.name, { value: each.value, unit: each.unit }]] : [],
  );
  return { ...Object.fromEntries(kept), ...Object.fromEntries(live) };
}

/** @param {string[]} steps @returns {OutcomesRequest} */
const requestFor = (steps) => ({
  action: 'outcomes',
  today: today(),
  readings: readingsNow(),
  answers: answersNow(),
  ...withOwn(),
  steps,
});

/** @param {string} step */
function ask(step) {
  last.question = ''; // its line alone changes, and the others are asked once typing rests
  questions.ask(requestFor([step]));
}

function askAll() {
  const all = places();
  const [place] = all;
  if (!place) return;
  const request = requestFor(all.map(({ dataset }) => dataset.hbOutcome ?? ''));
  const { readings, ...other } = request;
  const question = JSON.stringify([other, Object.entries(readings).sort()]);
  if (question === last.question && place === last.place) return;
  Object.assign(last, { question, place });
  questions.ask(request);
}

/** @param {Event} event */
function typed({ target }) {
  if (!(target instanceof HTMLElement)) return;
  const field = target.closest('hb-words') ?? target;
  if (!(field instanceof HTMLInputElement || field instanceof WordChoice)) return;
  const line = field.closest('li[data-hb-reading]');
  if (!(line instanceof HTMLElement)) return;
  const unit = line.querySelector('.hb-blank__unit')?.textContent?.trim() ?? '';
  live.set(line.dataset.hbReading ?? '', typedReading(field.value, unit));
  const place = line.closest('[data-hb-step]')?.querySelector('[data-hb-outcome]');
  if (place) keepRoom(asElement(place), field);
  if (place) ask(asElement(place).dataset.hbOutcome ?? '');
  clearTimeout(others);
  others = setTimeout(askAll, OTHERS_MS);
  if (place) sayOnce(asElement(place));
}

/**
 * Its room is kept from the first character on: what stands below does not move under the hand. A step
 * that is judged in another keeps none, and a word keeps as much as what is said of it will take.
 *
 * @param {HTMLElement} place
 * @param {HTMLInputElement | WordChoice} field
 */
function keepRoom(place, field) {
  const isWord = field instanceof WordChoice;
  const acts = isWord && place.dataset.hbActs ? JSON.parse(place.dataset.hbActs) : null;
  const act = acts?.[field.value];
  const isAnswered = field.value.trim() !== '' && !place.hasAttribute('data-hb-seldom');
  // A word that calls for no judgement, such as "does not apply", has no answer to keep room for.
  if (isAnswered && !(acts && act === undefined)) place.dataset.hbTyped = isWord ? 'word' : '';
  else delete place.dataset.hbTyped;
  if (place.hidden && act !== undefined) keepHeight(place, act);
}

/** @param {HTMLElement} place */
function sayOnce(place) {
  clearTimeout(saying);
  unsaid = null;
  saying = setTimeout(() => say(place), SAY_MS);
}

/** @param {HTMLElement} place what it says; where the answer has not come yet, once it has */
function say(place) {
  const words = place.hidden ? '' : (place.textContent ?? '').replaceAll(/\s+/g, ' ').trim();
  unsaid = words ? null : place;
  announcer().textContent = words;
}

/** @returns {HTMLElement} one for the page: what it says is said politely, and once */
function announcer() {
  const made = document.querySelector('[data-hb-outcome-said]');
  if (made) return asElement(made);
  const place = document.createElement('p');
  place.className = 'hb-unseen';
  place.dataset.hbOutcomeSaid = '';
  place.setAttribute('role', 'status');
  document.querySelector('#steps')?.append(place);
  return place;
}

/** What was kept is what stands there; what a person types from now on goes before it. */
export function showStepOutcomes() {
  if (!openVisit.isRead || !places().length) return;
  live.clear();
  // Without a reading there is nothing to answer, and Python need not start.
  if (Object.keys(readingsNow()).length) askAll();
}

export function startStepOutcomes() {
  document.addEventListener('input', typed);
}
