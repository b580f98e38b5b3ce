/** On the page of the visit: the checks of the visit in order, how far each is, and where to go on. */

import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { siteUrl } from '../lib/site-url.js';
import { shapeFor } from '../record/outcome-view.js';
import { openVisit } from '../visit/open-visit.js';
import { plainLine } from '../visit/plain-text.js';
import { checkKey, markCheck, visitChecks } from '../visit/visit-checks.js';

/** @typedef {import('../visit/visit-checks.js').VisitCheck} VisitCheck */

/** What is still to do has no shape. */
const SHAPES = {
  to_do: '',
  going_on: '',
  done: 'within',
  not_met: 'outside',
  left_out: 'not_judged',
};
const STATE_WORDS = {
  to_do: 'To do',
  going_on: 'Going on',
  done: 'Done',
  not_met: 'Not met',
  left_out: 'Left out',
};

/** @param {HTMLElement} root in working order; of several appliances first those that all share */
export function showChecks(root) {
  const checks = openVisit.visit ? visitChecks() : [];
  const several = openVisit.appliances.length > 1;
  const ownTitle = several ? 'Of the appliance' : 'In working order';
  setText(find(root, '[data-hb-own-title]'), openVisit.applianceName || ownTitle);
  const isApart = (/** @type {VisitCheck} */ { isForAll }) => several && isForAll;
  fill(root, 'shared-checks', checks.filter(isApart));
  fill(
    root,
    'own-checks',
    checks.filter((check) => !isApart(check)),
  );
  const closed = checks.filter(({ state }) => state === 'done' || state === 'left_out').length;
  setText(find(root, '[data-hb-checks-done]'), `${closed} of ${checks.length} closed.`);
}

/** @param {HTMLElement} root @param {string} list @param {VisitCheck[]} checks */
function fill(root, list, checks) {
  find(root, `[data-hb-part="${list}"]`).hidden = !checks.length;
  fillList(root, list, checks.map(rowOf), {
    finish: (node, item) => finish(node, /** @type {Row} */ (item), checks),
  });
}

/** @typedef {{id: string, title: string, about: string, state: string}} Row */

/** @param {VisitCheck} check @returns {Row} */
const rowOf = (check) => ({
  id: check.id,
  title: `${check.number} ${check.do}`,
  about: check.about,
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
  node.toggleAttribute('data-hb-outweighed', check.state === 'not_met' && check.marked !== '');
  node.id = `check-${check.id}`;
  const shape = SHAPES[check.state];
  find(node, '[data-hb-check-shape]').replaceChildren(...(shape ? [shapeFor(shape)] : []));
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
  root.addEventListener('change', ({ target }) => {
    const row = target instanceof Element ? target.closest('[data-hb-check-id]') : null;
    if (!(row instanceof HTMLElement)) return;
    const mark = /** @type {HTMLSelectElement} */ (find(row, 'select'));
    const why = /** @type {HTMLInputElement} */ (find(row, 'input'));
    const state = /** @type {'done' | 'left_out' | ''} */ (mark.value);
    const reason = state === 'left_out' ? plainLine(why.value) : '';
    void markCheck(row.dataset.hbCheckId ?? '', state, reason).catch(() => {});
  });
}
