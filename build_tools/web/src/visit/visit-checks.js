/** The checks of the open visit, in working order, with how far each is. */

import { isRuledOut, withoutClashes } from '../lib/which-checks.js';
import { isShared } from './appliances.js';
import { openVisit } from './open-visit.js';
import { isReadAgain } from './read-again.js';
import { answersNow } from './visit-answers.js';

/** @typedef {import('./appliances.js').ApplianceEntries} ApplianceEntries */
/** @typedef {import('../lib/which-checks.js').Answers} Answers */
/** @typedef {import('../lib/which-checks.js').Fits} Fits */
/** @typedef {{id: string, do: string, page: string, fits: Fits, readings: string[]}} Check */
/** @typedef {{page: string, title: string, labels: string[]}} Unsafe `labels`: the verdicts that mean so, none for any */
/** @typedef {'to_do' | 'going_on' | 'done' | 'not_met' | 'left_out'} CheckState */
/** @typedef {{state: CheckState, byReadings: CheckState, marked: '' | 'done' | 'left_out', reason: string, about: string, unsafe: Unsafe | null}} HowFar */
/** @typedef {Check & HowFar & {number: number, isForAll: boolean}} VisitCheck `byReadings`: without a person's mark; `marked`: that alone */

/** What was put right is no fault that is left. A check keeps it under such a step. */
const STEP_AS_FOUND = /\.found$/;
const OPEN = new Set(['to_do', 'going_on']);

/** @param {string} id */
export const checkKey = (id) => `check:${id}`;

/** What reading-facts.js has set; without it no check is known. */
function facts() {
  const { hbReadingFacts } = /** @type {any} */ (globalThis);
  const { checks = [], impossible = [], unsafe = {} } = hbReadingFacts ?? {};
  return {
    checks: /** @type {Check[]} */ (checks),
    impossible: /** @type {Fits[]} */ (impossible),
    unsafe: /** @type {Record<string, Unsafe>} */ (unsafe),
  };
}

/**
 * @param {ApplianceEntries} [of] what an appliance has; without it the one that is worked on
 * @returns {Answers} without those that can't all be true
 */
export const sureAnswers = (of = openVisit.of(openVisit.appliance)) =>
  withoutClashes(answersNow(of), facts().impossible).sure;

/**
 * @param {ApplianceEntries} [of] what an appliance has; without it the one that is worked on
 * @returns {VisitCheck[]} those that the answers do not rule out
 */
export function visitChecks(of = openVisit.of(openVisit.appliance)) {
  const { checks } = facts();
  const own = [sureAnswers(of)];
  // One check serves all: it is called for where the answers of any of them call for it.
  const all = openVisit.appliances.map(({ id }) => sureAnswers(openVisit.of(id)));
  const apply = checks.flatMap((check) => {
    const isForAll = isShared(checkKey(check.id));
    const answers = isForAll && all.length ? all : own;
    const isOut = answers.every((sure) => isRuledOut(check.fits, sure));
    return isOut ? [] : [{ ...check, isForAll }];
  });
  return apply.map((check, place) => ({ ...check, number: place + 1, ...stateOf(check, of) }));
}

/** @param {Check} check @param {ApplianceEntries} of @returns {HowFar} */
function stateOf({ id, page, readings }, of) {
  const mark = of.entry(checkKey(id));
  const held = readings.filter((name) => of.reading(name)).length;
  const stem = page.split('/').at(-1)?.replace('.html', '') ?? '';
  const outcomes = of.entries.flatMap((each) =>
    each.kind === 'outcome' && page && each.step.startsWith(`${stem}.`) ? [each] : [],
  );
  const read = new Set(outcomes.map(({ reading }) => reading));
  const wrong = outcomes.filter(
    ({ state, reading, step }) =>
      state === 'outside' && !isReadAgain(reading, readings, read) && !STEP_AS_FOUND.test(step),
  );
  // Each is named: the worst may be any of them.
  const about =
    wrong.map(({ label, text }) => `${label}: ${text}`).join(' ') || readingsWords(held);
  const [reason, marked] =
    mark?.kind === 'check' ? [mark.reason, mark.state] : ['', /** @type {const} */ ('')];
  /** @type {CheckState} */
  const byReadings = wrong.length ? 'not_met' : held ? 'going_on' : 'to_do';
  // A person's word does not outweigh a reading that is outside.
  const unsafe = leadsTo(wrong);
  const said = { byReadings, marked, reason, unsafe };
  if (wrong.length || !marked) return { state: byReadings, about, ...said };
  return { state: marked, about: reason || about, ...said };
}

/**
 * @param {import('./visit-types.js').KeptOutcome[]} wrong
 * @returns {Unsafe | null} the page that goes before any next check, where one stops the work
 */
function leadsTo(wrong) {
  const { unsafe } = facts();
  for (const { step, verdicts } of wrong) {
    const found = unsafe[step];
    const failed = verdicts.filter(({ outcome }) => outcome === 'does_not_meet');
    const isMeant =
      !found?.labels.length || failed.some(({ label }) => found.labels.includes(label));
    if (found && isMeant) return found;
  }
  return null;
}

/** @param {number} count */
const readingsWords = (count) => (count ? `${count} ${count === 1 ? 'reading' : 'readings'}` : '');

/** @param {string} page @returns {boolean} whether each check that it serves is of other appliances */
export const isOfOthers = (page) => ofOthers([page]).has(page);

/** @param {string[]} pages @returns {Set<string>} those of which each check is of other appliances */
export function ofOthers(pages) {
  const [all, own] = [facts().checks, visitChecks()];
  const isOut = (/** @type {string} */ page) => {
    const serves = (/** @type {Check} */ each) => each.page !== '' && page.endsWith(each.page);
    return all.some(serves) && !own.some(serves);
  };
  return new Set(pages.filter(isOut));
}

/** @param {string} page @returns {VisitCheck[]} the checks of the visit that it serves */
export const checksOf = (page) =>
  visitChecks().filter((each) => each.page !== '' && page.endsWith(each.page));

/** @param {VisitCheck[]} checks @returns {VisitCheck | undefined} where to go on */
export const nextOpen = (checks) => checks.find(({ state }) => OPEN.has(state));

/**
 * @param {string} id
 * @param {'done' | 'left_out' | ''} state nothing for what the readings say of it
 * @param {string} [reason]
 */
export async function markCheck(id, state, reason = '') {
  const at = new Date().toISOString();
  const mark = { name: id, reason, at };
  await openVisit.keep(
    (visit) =>
      state
        ? [{ visit, key: checkKey(id), kind: /** @type {const} */ ('check'), ...mark, state }]
        : [],
    state ? [] : [checkKey(id)],
  );
}
