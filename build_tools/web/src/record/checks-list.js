/** On the record's page: the checks of the visit in order, how far each is, and where to go on. */

import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { siteUrl } from '../lib/site-url.js';
import { openVisit } from '../visit/open-visit.js';
import { plainLine } from '../visit/plain-text.js';
import { checkKey, markCheck, nextOpen, visitChecks } from '../visit/visit-checks.js';

/** @typedef {import('../visit/visit-checks.js').VisitCheck} VisitCheck */

export const STATE_WORDS = {
  to_do: 'To do',
  going_on: 'Going on',
  done: 'Done',
  not_met: 'Not met',
  left_out: 'Left out',
};

/** @param {HTMLElement} root */
export function showChecks(root) {
  const checks = openVisit.visit ? visitChecks() : [];
  const part = find(root, '[data-hb-visit-checks]');
  part.hidden = !checks.length;
  const closed = checks.filter(({ state }) => state === 'done' || state === 'left_out').length;
  setText(find(root, '[data-hb-checks-done]'), `${closed} of ${checks.length} closed.`);
  const next = nextOpen(checks);
  const on = /** @type {HTMLAnchorElement} */ (find(root, '[data-hb-checks-next]'));
  on.hidden = !next?.page;
  if (next?.page) {
    on.href = addressOf(next);
    setText(on, `Go on: ${next.do}`);
  }
  const reasons = checks.filter(({ state, reason }) => state === 'left_out' && !reason);
  const unsaid = find(root, '[data-hb-checks-unsaid]');
  unsaid.hidden = !reasons.length;
  setText(unsaid, `Say why you left out: ${reasons.map((each) => each.do).join('; ')}.`);
  fillList(
    root,
    'visit-checks',
    checks.map((each) => ({ ...rowOf(each) })),
    { finish: (node, item) => finish(node, /** @type {Row} */ (item), checks) },
  );
}

/** @typedef {{id: string, number: string, title: string, about: string, state: string}} Row */

/** @param {VisitCheck} check @returns {Row} */
const rowOf = (check) => ({
  id: check.id,
  number: String(check.number),
  title: check.do,
  about: [check.isForAll && openVisit.applianceName ? 'For all appliances' : '', check.about]
    .filter(Boolean)
    .join(' · '),
  state: STATE_WORDS[check.state],
});

/** @param {VisitCheck} check */
const addressOf = ({ page }) => new URL(page, siteUrl()).href;

/** @param {HTMLElement} node @param {Row} row @param {VisitCheck[]} checks */
function finish(node, row, checks) {
  const check = checks.find(({ id }) => id === row.id);
  if (!check) return;
  node.dataset.hbCheckId = check.id;
  node.dataset.state = check.state;
  const link = /** @type {HTMLAnchorElement} */ (find(node, '[data-hb-slot="title"]'));
  if (check.page) link.href = addressOf(check);
  const mark = /** @type {HTMLSelectElement} */ (find(node, 'select'));
  mark.setAttribute('aria-label', `Mark: ${check.do}`);
  const said = openVisit.entry(checkKey(check.id));
  // The first word is what the readings say of it: choosing it takes the mark away.
  setText(/** @type {HTMLElement} */ (mark.options[0]), STATE_WORDS[check.byReadings]);
  if (document.activeElement !== mark) mark.value = said?.kind === 'check' ? said.state : '';
  const why = /** @type {HTMLInputElement} */ (find(node, 'input'));
  const box = find(node, '[data-hb-check-why]');
  box.hidden = mark.value !== 'left_out';
  if (document.activeElement !== why) why.value = check.reason;
}

/** @param {HTMLElement} root */
export function startChecks(root) {
  find(root, '[data-hb-list="visit-checks"]').addEventListener('change', ({ target }) => {
    const row = target instanceof Element ? target.closest('[data-hb-check-id]') : null;
    if (!(row instanceof HTMLElement)) return;
    const mark = /** @type {HTMLSelectElement} */ (find(row, 'select'));
    const why = /** @type {HTMLInputElement} */ (find(row, 'input'));
    const state = /** @type {'done' | 'left_out' | ''} */ (mark.value);
    const reason = state === 'left_out' ? plainLine(why.value) : '';
    void markCheck(row.dataset.hbCheckId ?? '', state, reason).catch(() => {});
  });
}
