/** Where to go on in the visit, and what of it is still missing. */

import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { placeKept } from '../lib/place-kept.js';
import { siteUrl } from '../lib/site-url.js';
import { askedFor } from '../visit/asked-for.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow } from '../visit/visit-answers.js';
import { nextOpen, visitChecks } from '../visit/visit-checks.js';

/** @typedef {import('../visit/visit-checks.js').VisitCheck} VisitCheck */

const RECORD = 'record/visit.html';

/** @param {HTMLElement} root */
export function showGoOn(root) {
  const place = find(root, '[data-hb-go-on]');
  const checks = openVisit.visit ? visitChecks() : [];
  const next = nextOpen(checks);
  const wrong = checks.filter(({ state }) => state === 'not_met');
  find(root, '[data-hb-go-on-unsafe]').hidden = !wrong.length;
  place.hidden = !checks.length;
  if (next?.page) leadTo(place, next);
  else if (next) leadToRow(place, next);
  else if (wrong[0]) leadBackTo(place, wrong);
  else if (checks.length) leadOn(place);
}

/** @param {HTMLElement} place @param {Record<'kind' | 'check' | 'step' | 'link', string>} words */
function say(place, { kind, check, step, link }) {
  setText(find(place, '[data-hb-go-on-kind]'), kind);
  setText(find(place, '[data-hb-go-on-check]'), check);
  setText(find(place, '[data-hb-go-on-step]'), step);
  setText(find(place, 'a'), link);
}

/** @param {HTMLElement} place @param {VisitCheck[]} wrong nothing is left to do but to put it right */
function leadBackTo(place, wrong) {
  const [first] = /** @type {[VisitCheck]} */ (wrong);
  const link = /** @type {HTMLAnchorElement} */ (find(place, 'a'));
  link.href = new URL(first.page, siteUrl()).href;
  const kind = `Every check is marked. Not met: ${wrong.length}`;
  const check = `${first.number} ${first.do}`;
  say(place, { kind, check, step: first.about, link: 'Go back to this check' });
}

/** @param {HTMLElement} place nothing is left to do */
function leadOn(place) {
  const link = /** @type {HTMLAnchorElement} */ (find(place, 'a'));
  link.href = new URL(RECORD, siteUrl()).href;
  const kind = 'Where to go on';
  const check = 'Every check is closed';
  say(place, { kind, check, step: 'Print the record, or take it along.', link: 'To the record' });
}

/** @param {HTMLElement} place @param {VisitCheck} next one that no page of the handbook is about */
function leadToRow(place, next) {
  const link = /** @type {HTMLAnchorElement} */ (find(place, 'a'));
  link.href = `#check-${next.id}`;
  say(place, {
    kind: 'Where to go on',
    check: `${next.number} ${next.do}`,
    step: 'It has no page of its own. Go by your training, then mark it in the list.',
    link: 'Mark it',
  });
}

/** @param {HTMLElement} place @param {VisitCheck} next */
function leadTo(place, next) {
  const link = /** @type {HTMLAnchorElement} */ (find(place, 'a'));
  const kept = placeKept();
  const isThere = kept?.address.split('#')[0] === next.page;
  link.href = new URL(isThere ? (kept?.address ?? next.page) : next.page, siteUrl()).href;
  say(place, {
    kind: 'Where to go on',
    check: `${next.number} ${next.do}`,
    step: isThere ? (kept?.step ?? '') : '',
    link: isThere ? 'Go on there' : 'Go to this check',
  });
}

/** @type {(count: number, one: string) => string} */
const counted = (count, one) => `${count} ${one}${count === 1 ? '' : 's'}`;

/** @param {HTMLElement} root only what applies: an answer, a reason, readings of what has begun */
export function showMissing(root) {
  const [given, said, read] = openVisit.visit
    ? [answers(root), reasons(), readings()]
    : [[], [], []];
  const items = [...given, ...said, ...read];
  const part = find(root, '[data-hb-missing]');
  part.hidden = !items.length;
  setText(find(part, '[data-hb-missing-count]'), `Missing: ${items.length}.`);
  const what = [
    ...given.map(({ count }) => counted(count, 'answer')),
    said.length ? counted(said.length, 'reason') : '',
    read.length ? `readings of ${counted(read.length, 'check')}` : '',
  ];
  setText(find(part, '[data-hb-missing-what]'), what.filter(Boolean).join(', '));
  fillList(root, 'missing', items, {
    finish: (node, item) => find(node, 'a').setAttribute('href', String(item.link)),
  });
}

/** @param {HTMLElement} root */
function answers(root) {
  const given = answersNow();
  const asked = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-hb-question]')]);
  const open = asked.filter(({ dataset }) => !given[dataset.hbQuestion ?? '']);
  if (!open.length) return [];
  const labels = open.map(({ dataset }) => dataset.hbLabel).join(', ');
  const link = root.dataset.hbAnswersPage ?? '';
  const title = `Answers: ${labels}`;
  return [{ count: open.length, title, link: new URL(`${link}#checks`, siteUrl()).href }];
}

function reasons() {
  return visitChecks().flatMap(({ id, do: title, state, reason }) =>
    state === 'left_out' && !reason
      ? [{ title: `Why it is left out: ${title}`, link: `#check-${id}` }]
      : [],
  );
}

/** A reading may be one that this visit does not need: so a check that is marked as done lacks none. */
function readings() {
  const isAsked = askedFor();
  return visitChecks().flatMap(({ do: title, page, state, readings: all }) => {
    const own = all.filter(isAsked);
    const missing = own.filter((name) => !openVisit.usable(name)).length;
    if (state !== 'going_on' || !missing || !page) return [];
    const count = `${missing} of ${own.length} readings`;
    const link = new URL(`${page}#steps`, siteUrl()).href;
    return [{ title: `${title}: ${count} are not there`, link }];
  });
}
