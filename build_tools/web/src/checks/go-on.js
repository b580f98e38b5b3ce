/** Where to go on in the visit, and what of it is still missing. */

import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { placeKept } from '../lib/place-kept.js';
import { siteUrl } from '../lib/site-url.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow } from '../visit/visit-answers.js';
import { nextOpen, visitChecks } from '../visit/visit-checks.js';

/** @param {HTMLElement} root */
export function showGoOn(root) {
  const place = find(root, '[data-hb-go-on]');
  const next = openVisit.visit ? nextOpen(visitChecks()) : undefined;
  place.hidden = !next?.page;
  if (!next?.page) return;
  const link = /** @type {HTMLAnchorElement} */ (find(place, 'a'));
  const kept = placeKept();
  const isThere = kept?.address.split('#')[0] === next.page;
  setText(find(place, '[data-hb-go-on-check]'), `${next.number} ${next.do}`);
  setText(find(place, '[data-hb-go-on-step]'), isThere ? (kept?.step ?? '') : '');
  link.href = new URL(isThere ? (kept?.address ?? next.page) : next.page, siteUrl()).href;
  setText(link, isThere ? 'Go on there' : 'Go to this check');
}

/** @param {HTMLElement} root only what applies: an answer, a reason, readings of what has begun */
export function showMissing(root) {
  const items = openVisit.visit ? [...answers(root), ...reasons(), ...readings()] : [];
  const part = find(root, '[data-hb-missing]');
  part.hidden = !items.length;
  setText(find(part, '[data-hb-missing-count]'), `Missing: ${items.length}.`);
  setText(find(part, '[data-hb-missing-what]'), items.map(({ what }) => what).join(', '));
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
  const what = open.length === 1 ? 'one answer' : `${open.length} answers`;
  return [{ what, title: `Answers: ${labels}`, link: new URL(link, siteUrl()).href }];
}

function reasons() {
  return visitChecks().flatMap(({ id, do: title, state, reason }) =>
    state === 'left_out' && !reason
      ? [{ what: 'a reason', title: `Why it is left out: ${title}`, link: `#check-${id}` }]
      : [],
  );
}

/** A reading may be one that this visit does not need: so a check that is marked as done lacks none. */
function readings() {
  return visitChecks().flatMap(({ do: title, page, state, readings: own }) => {
    const missing = own.filter((name) => !openVisit.usable(name)).length;
    if (state !== 'going_on' || !missing || !page) return [];
    const count = `${missing} of ${own.length} readings`;
    const link = new URL(`${page}#steps`, siteUrl()).href;
    return [{ what: `readings of ${title.toLowerCase()}`, title: `${title}: ${count}`, link }];
  });
}
