/** On a page of a check: where it stands in the visit, and what comes after it. */

import { siteUrl } from '../lib/site-url.js';
import { openVisit } from '../visit/open-visit.js';
import { markCheck, visitChecks } from '../visit/visit-checks.js';

/** @typedef {import('../visit/visit-checks.js').VisitCheck} VisitCheck */

const TOP = '[data-hb-check-place]';
const END = '[data-hb-check-next]';

/**
 * Of this page. What comes before the next check that has a page has none of its own.
 *
 * @returns {{check: VisitCheck, next: VisitCheck | undefined, between: VisitCheck[], of: number} | null}
 */
function here() {
  if (!openVisit.visit || !lastPart()) return null;
  const checks = visitChecks();
  const address = location.href.split('#')[0];
  const isHere = (/** @type {VisitCheck} */ { page }) =>
    page && new URL(page, siteUrl()).href === address;
  const check = nowOf(checks, checks.filter(isHere));
  if (!check) return null;
  const after = checks.slice(check.number);
  const next = after.find(({ page }) => page);
  const between = after.slice(0, next ? after.indexOf(next) : undefined);
  return { check, next, between, of: checks.length };
}

/**
 * A procedure may serve two checks, as a flue that is looked at before the purge and tried after it. It
 * is at the first open one; but while something is open that comes before that, at the one before.
 *
 * @param {VisitCheck[]} checks of the visit
 * @param {VisitCheck[]} own those of this page
 * @returns {VisitCheck | undefined}
 */
function nowOf(checks, own) {
  const open = own.find(({ marked }) => !marked);
  if (!open) return own.at(-1);
  const before = own.findLast(({ number }) => number < open.number);
  const isBetween = checks
    .slice(before?.number ?? open.number, open.number - 1)
    .some(({ marked, page }) => !marked && page);
  return isBetween ? before : open;
}

/** @returns {Element | null} what the next check stands after; of a check by figures alone, those */
const lastPart = () =>
  document.querySelector('#finish') ??
  document.querySelector('#steps') ??
  document.querySelector('hb-calculator');

/**
 * What is shown stays the same part as long as it says the same: a finger may be on it, and a part
 * that is put in anew has the browser lay out the page.
 */
export function showCheckPlace() {
  const found = openVisit.isRead ? here() : null;
  if (openVisit.isRead) delete document.documentElement.dataset.hbRoom; // kept before the first paint
  const place = found && top(found.check, found.of);
  if (isAnother(TOP, place) && place) document.querySelector('.hb-top__jump')?.before(place);
  const hadFocus = Boolean(document.querySelector(`${END} button:focus`));
  const following = found ? end(found) : isBeside() ? back() : null;
  if (!isAnother(END, following) || !following) return;
  lastPart()?.after(following);
  if (hadFocus) following.querySelector('button')?.focus();
}

/**
 * @param {string} selector of what is shown; it goes, if it is not the same
 * @param {Element | null} wanted
 */
function isAnother(selector, wanted) {
  const shown = document.querySelector(selector);
  if (shown && wanted && shown.outerHTML === wanted.outerHTML) return false;
  shown?.remove();
  return true;
}

/** A procedure that the visit does not ask for, read while it is open: it may be worth while. */
const isBeside = () =>
  Boolean(openVisit.isRead && openVisit.visit) &&
  Boolean(document.querySelector('#steps')) &&
  !document.querySelector('[data-hb-checks-question]'); // it leads to the visit itself

/** The way back to the visit, from a page that is none of its checks. */
function back() {
  const part = document.createElement('nav');
  part.className = 'hb-check-next';
  part.dataset.hbCheckNext = '';
  part.setAttribute('aria-label', 'Next check');
  const said = document.createElement('p');
  said.textContent =
    'This page is none of the checks of the open visit. What you read here is kept in it all the same.';
  const link = visitLink('Go on with the visit');
  link.className = 'hb-button hb-button--main';
  part.append(said, link);
  return part;
}

/** @param {VisitCheck} check @param {number} of */
function top({ number }, of) {
  const place = document.createElement('p');
  place.className = 'hb-check-place';
  place.dataset.hbCheckPlace = '';
  place.append(visitLink(`Check ${number} of ${of}`));
  return place;
}

/** @param {string} words @param {string} [place] on its page */
function visitLink(words, place = '') {
  const link = document.createElement('a');
  link.href = new URL(`visit/checks_in_order.html${place}`, siteUrl()).href;
  link.textContent = words;
  return link;
}

/** @param {NonNullable<ReturnType<typeof here>>} found */
function end({ check, next, between }) {
  const part = document.createElement('nav');
  part.className = 'hb-check-next';
  part.dataset.hbCheckNext = check.id;
  part.setAttribute('aria-label', 'Next check');
  const done = document.createElement('button');
  Object.assign(done, { type: 'button', className: 'hb-button' });
  const isDone = check.marked === 'done';
  done.textContent = isDone ? 'This check is done. Take that back' : 'This check is done';
  done.addEventListener(
    'click',
    () => void markCheck(check.id, isDone ? '' : 'done').catch(() => {}),
  );
  part.append(done);
  // A person's word does not outweigh a reading that is outside: what they say is kept beside it.
  if (check.state === 'not_met') {
    const still = document.createElement('p');
    still.className = 'hb-check-next__still';
    still.textContent = `Not met. ${check.about}`;
    part.append(still);
  }
  // What stops the work goes before what comes next.
  if (check.unsafe) part.append(button(check.unsafe.page, `First: ${check.unsafe.title}`, true));
  for (const each of between.filter(({ marked }) => !marked)) {
    const first = document.createElement('p');
    const link = visitLink('Mark it in the visit', `#check-${each.id}`);
    first.append(`First, without a page of its own: ${each.do}. `, link);
    part.append(first);
  }
  if (next) part.append(button(next.page, `Next check: ${next.do}`, !check.unsafe));
  else part.append(visitLink('The visit, with all its checks'));
  return part;
}

/** @param {string} page @param {string} words @param {boolean} isMain */
function button(page, words, isMain) {
  const link = document.createElement('a');
  link.className = isMain ? 'hb-button hb-button--main' : 'hb-button';
  link.href = new URL(page, siteUrl()).href;
  link.textContent = words;
  return link;
}
