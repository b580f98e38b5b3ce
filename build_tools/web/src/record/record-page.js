/** The page of the visit record: visits, what the open one holds, what it lacks. */

import { find, setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { LOST_WORDS, storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { momentWords, plainName } from '../visit/visit-name.js';
import { change, overview } from '../visit/visit-store.js';
import { showAskedLines } from './asked-lines.js';
import { beginVisit } from './begin-visit.js';
import { showExports, startExportImport } from './export-import.js';
import { showInstrumentsUsed } from './instruments-used.js';
import { showOutcomes } from './outcomes-list.js';
import { showPersonLine } from './person-line.js';
import { renewFits } from './renew-fit.js';
import { showVisitList, startVisitList } from './visit-list.js';
import { showAnswers, showGroups, showMissing, showUnknown } from './visit-view.js';

/** @type {WeakSet<Element>} pages that have been set up */
const ready = new WeakSet();

export function startPage() {
  document.addEventListener('hb:page', () => void show());
  document.addEventListener('hb:visit', () => void show());
  void show();
}

async function show() {
  const root = document.querySelector('[data-hb-record]');
  if (!(root instanceof HTMLElement)) return;
  setUp(root);
  if (!openVisit.isRead) return;
  const problem = find(root, '[data-hb-storage-error]');
  problem.hidden = openVisit.storageError === null && !openVisit.isLost;
  const lost = openVisit.isLost ? LOST_WORDS : '';
  setText(
    problem,
    openVisit.storageError
      ? `The record is not there. ${storageErrorWords(openVisit.storageError)}`
      : lost,
  );
  showPersonLine(root);
  showInstrumentsUsed(root);
  showHead(root);
  showAskedLines(root);
  showGroups(root);
  showMissing(root);
  showUnknown(root);
  showOutcomes(root);
  showAnswers(root);
  renewFits();
  if (openVisit.storageError) return;
  const all = await overview().catch(() => null);
  if (!all || !root.isConnected) return;
  find(root, '[data-hb-record-none]').hidden = all.visits.length > 0;
  showVisitList(root, all);
  showExports(root, all.visits.length);
  await showPromise(root);
}

/** @param {HTMLElement} root */
function setUp(root) {
  if (ready.has(root)) return;
  ready.add(root);
  for (const part of root.querySelectorAll('[data-hb-record-live]')) {
    /** @type {HTMLElement} */ (part).hidden = false;
  }
  // A list of all that could be read is for paper: here a group opens when it has something.
  for (const group of root.querySelectorAll('[data-hb-readings-group]')) {
    /** @type {HTMLDetailsElement} */ (group).open = false;
  }
  startVisitList(root);
  startExportImport(root);
  const said = find(root, '[data-hb-record-said]');
  const tell = (/** @type {Promise<string>} */ doing) =>
    doing.then(
      (words) => setText(said, words),
      (error) => setText(said, storageErrorWords(storageErrorOf(error))),
    );
  find(root, '[data-hb-visit-new]').addEventListener('submit', (event) => {
    event.preventDefault();
    const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-visit-new-name]'));
    void tell(beginVisit(field.value).then((name) => `“${name}” is open.`));
    field.value = '';
  });
  find(root, '[data-hb-visit-rename]').addEventListener('submit', (event) => {
    event.preventDefault();
    const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-visit-name]'));
    const name = plainName(field.value);
    const { visit } = openVisit;
    if (!visit) return;
    if (!name) void tell(Promise.resolve('A visit needs a name. It keeps the one that it has.'));
    else
      void tell(
        openVisit.act(() => change(visit.id, { name }, true)).then(() => `Its name is “${name}”.`),
      );
  });
}

/** @param {HTMLElement} root */
function showHead(root) {
  const { visit } = openVisit;
  const head = find(root, '[data-hb-visit-head]');
  head.hidden = visit === null;
  const appliance = openVisit.applianceName && ` ${openVisit.applianceName}.`;
  setText(head, visit ? `${visit.name}. Begun on ${momentWords(visit.begun)}.${appliance}` : '');
  find(root, '[data-hb-visit-rename]').hidden = visit === null;
  const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-visit-name]'));
  if (document.activeElement !== field) field.value = visit?.name ?? '';
}

/** @param {HTMLElement} root */
async function showPromise(root) {
  const promised = (await navigator.storage?.persisted?.().catch(() => false)) ?? false;
  setText(
    find(root, '[data-hb-record-promise]'),
    promised
      ? 'This browser has promised not to clear the record by itself.'
      : 'This browser may clear the record when the device runs out of room. Export what you must not lose.',
  );
}
