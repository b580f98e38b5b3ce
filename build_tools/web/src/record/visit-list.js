/** The visits of this device, and what can be done with each. */

import { plainKey } from '../lib/appliance-key.js';
import { downloadText } from '../lib/download.js';
import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { momentWords } from '../visit/visit-name.js';
import { change, overview, remove } from '../visit/visit-store.js';
import { fileName, fileOf } from './visit-file.js';

/** @typedef {Awaited<ReturnType<typeof overview>>} Overview */

/** @type {(count: number, one: string) => string} */
const counted = (count, one) => `${count} ${one}${count === 1 ? '' : 's'}`;

/** @param {string[]} keys of one visit, each beginning with its kind */
function heldWords(keys) {
  const count = (/** @type {string} */ kind) =>
    keys.filter((key) => plainKey(key).startsWith(`${kind}:`)).length;
  const words = [counted(count('reading'), 'reading'), counted(count('answer'), 'answer')];
  return [...words, counted(count('note'), 'note')].join(', ');
}

/** @param {HTMLElement} root @param {Overview} all */
export function showVisitList(root, { visits, keys, open }) {
  /** @type {Map<string, string[]>} */
  const ofVisit = new Map(visits.map(({ id }) => [id, []]));
  for (const [visit, key] of keys) ofVisit.get(visit)?.push(key);
  const items = visits.map((visit) => {
    const held = heldWords(ofVisit.get(visit.id) ?? []);
    const state = visit.id === open ? 'open' : visit.closed ? 'closed' : '';
    const about = `Begun on ${momentWords(visit.begun)}. ${held}.`;
    return { id: visit.id, name: visit.name, state, about, held };
  });
  fillList(root, 'visits', items, {
    finish(node, item) {
      if (node.dataset.hbVisit !== item.id) find(node, '[data-hb-sure]').hidden = true;
      node.dataset.hbVisit = String(item.id);
      node.dataset.hbName = String(item.name);
      node.dataset.state = String(item.state);
      find(node, '[data-hb-act="open"]').hidden = item.state === 'open';
      find(node, '[data-hb-act="close"]').hidden = item.state !== 'open';
      for (const button of node.querySelectorAll('[data-hb-act]')) {
        button.setAttribute('aria-label', `${button.textContent}: ${item.name}`);
      }
      const sure = `Delete “${item.name}” with ${item.held}? What is deleted can't be brought back.`;
      setText(find(node, '[data-hb-sure-words]'), sure);
    },
  });
}

/** @param {HTMLElement} root */
export function startVisitList(root) {
  find(root, '[data-hb-list="visits"]').addEventListener('click', (event) => {
    const button = event.target instanceof Element ? event.target.closest('[data-hb-act]') : null;
    const item = button?.closest('[data-hb-visit]');
    if (!(button instanceof HTMLElement) || !(item instanceof HTMLElement)) return;
    const said = find(root, '[data-hb-record-said]');
    pressed(button.dataset.hbAct ?? '', item, root).then(
      (words) => setText(said, words),
      (error) => setText(said, storageErrorWords(storageErrorOf(error))),
    );
  });
}

/**
 * @param {string} act
 * @param {HTMLElement} item
 * @param {HTMLElement} root
 * @returns {Promise<string>} what was done
 */
async function pressed(act, item, root) {
  const { hbVisit: id = '', hbName: name = '' } = item.dataset;
  const sure = find(item, '[data-hb-sure]');
  if (act === 'delete') {
    sure.hidden = false;
    find(sure, '[data-hb-act="spare"]').focus();
    return '';
  }
  if (act === 'spare') {
    sure.hidden = true;
    find(item, '[data-hb-act="delete"]').focus();
    return '';
  }
  if (act === 'export') {
    const file = await fileOf([id], root);
    downloadText(fileName(name, 'json'), JSON.stringify(file, null, 1), 'application/json');
    return `“${name}” is exported.`;
  }
  if (act === 'delete-now') {
    await openVisit.act(() => remove(id));
    find(root, '[data-hb-visit-new-name]').focus();
    return `“${name}” is deleted.`;
  }
  const opens = act === 'open';
  const closed = opens ? null : new Date().toISOString();
  await openVisit.act(() => change(id, { closed }, opens));
  return opens ? `“${name}” is open. Readings go into it.` : `“${name}” is closed.`;
}
