/** The page of the visit: its checks in working order, what is missing, where to go on. */

import { find, setText } from '../lib/find.js';
import { beginVisit } from '../record/begin-visit.js';
import { openVisit } from '../visit/open-visit.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { momentWords } from '../visit/visit-name.js';
import { showApplianceForms, startApplianceForms } from './appliance-forms.js';
import { showCardChoice, startCardChoice } from './card-picker.js';
import { showChecks, startChecks } from './checks-list.js';
import { showGoOn, showMissing } from './go-on.js';

/** @type {WeakSet<Element>} pages that have been set up */
const ready = new WeakSet();

export function startChecksPage() {
  document.addEventListener('hb:page', show);
  document.addEventListener('hb:visit', show);
  show();
}

function show() {
  const root = document.querySelector('[data-hb-visit-page]');
  if (!(root instanceof HTMLElement)) return;
  if (!ready.has(root)) setUp(root);
  if (!openVisit.isRead) return;
  const { visit, storageError } = openVisit;
  const problem = find(root, '[data-hb-storage-error]');
  problem.hidden = storageError === null;
  if (storageError) setText(problem, `The visit is not there. ${storageErrorWords(storageError)}`);
  find(root, '[data-hb-visit-closed]').hidden = visit !== null;
  find(root, '[data-hb-visit-opened]').hidden = visit === null;
  setText(
    find(root, '[data-hb-visit-head]'),
    visit ? `${visit.name}. Begun on ${momentWords(visit.begun)}.` : '',
  );
  showGoOn(root);
  showMissing(root);
  showChecks(root);
  showApplianceForms(root);
  void showCardChoice(root);
}

/** @param {HTMLElement} root */
function setUp(root) {
  ready.add(root);
  for (const part of root.querySelectorAll('[data-hb-visit-live]')) {
    /** @type {HTMLElement} */ (part).hidden = false;
  }
  startChecks(root);
  startApplianceForms(root);
  startCardChoice(root);
  const said = find(root, '[data-hb-visit-said]');
  find(root, '[data-hb-visit-new]').addEventListener('submit', (event) => {
    event.preventDefault();
    const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-visit-new-name]'));
    beginVisit(field.value).then(
      (name) => tell(said, `“${name}” is open. Readings go into it.`, true),
      (error) => tell(said, storageErrorWords(storageErrorOf(error)), false),
    );
    field.value = '';
  });
}

/** @param {HTMLElement} place @param {string} words @param {boolean} isSeen what the page shows anyway */
function tell(place, words, isSeen) {
  place.classList.toggle('hb-unseen', isSeen);
  setText(place, words);
}
