/** The page of what a reader keeps for every visit: typed once, kept, taken along, deleted. */

import { ownTold } from '../client/shared-client.js';
import { find, setText } from '../lib/find.js';
import { today } from '../lib/written-day.js';
import { showInstruments, startInstruments, tellInstruments } from './instrument-list.js';
import { ownField } from './own-field.js';
import { keepOwnFigure, ownFigures } from './own-figures.js';
import { exportOwn, importOwn, NOT_KEPT } from './own-file.js';
import { ownInstruments } from './own-instruments.js';
import { own } from './own-kept.js';
import { showPerson, startPerson } from './person-fields.js';

/** @typedef {import('./own-field.js').Typed} Typed */

/** What a reader keeps takes some kilobytes. */
const LARGEST_BYTES = 1_000_000;

/** @type {WeakSet<Element>} */
const ready = new WeakSet();

/** @returns {HTMLElement | null} */
const page = () => document.querySelector('[data-hb-own-page]');

/** @param {HTMLElement} root */
const lines = (root) => /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-hb-own]')]);

export function showOwnPage() {
  const root = page();
  if (!root) return;
  if (!ready.has(root)) setUp(root);
  const figures = new Map(ownFigures().map((each) => [each.name, each]));
  for (const line of lines(root)) ownField(line).show(figures.get(line.dataset.hbOwn ?? ''));
  showInstruments(root);
  showPerson(root);
  void tell(root);
}

/** @param {HTMLElement} root */
function setUp(root) {
  ready.add(root);
  for (const part of root.querySelectorAll('[data-hb-own-live]')) {
    /** @type {HTMLElement} */ (part).hidden = false;
  }
  startInstruments(root, (isKept) => sayKept(root, isKept));
  startPerson(root, (isKept) => sayKept(root, isKept));
  for (const line of lines(root)) {
    const name = line.dataset.hbOwn ?? '';
    ownField(line).onTyped((typed, edition) => keep(root, name, typed, edition));
  }
  find(root, '[data-hb-own-export]').addEventListener('click', exportOwn);
  startDeleting(root);
  const file = /** @type {HTMLInputElement} */ (find(root, '[data-hb-own-import]'));
  file.addEventListener('change', async () => {
    const [chosen] = file.files ?? [];
    if (chosen) say(root, await importFile(chosen));
    file.value = ''; // so that the same file can be tried again
  });
}

/** @param {File} file */
async function importFile(file) {
  if (file.size > LARGEST_BYTES) return ['Nothing was imported: the file is too large to be one.'];
  return importOwn(await file.text());
}

/** @param {HTMLElement} root @param {string[]} words */
function say(root, words) {
  const lines = words.map((text) => {
    const line = document.createElement('p');
    line.textContent = text;
    return line;
  });
  find(root, '[data-hb-own-said]').replaceChildren(...lines);
}

/** @param {HTMLElement} root */
function startDeleting(root) {
  const sure = find(root, '[data-hb-own-sure]');
  const clear = find(root, '[data-hb-own-clear]');
  const spare = find(root, '[data-hb-own-spare]');
  clear.addEventListener('click', () => {
    sure.hidden = false;
    spare.focus();
  });
  spare.addEventListener('click', () => {
    sure.hidden = true;
    clear.focus();
  });
  find(root, '[data-hb-own-clear-now]').addEventListener('click', () => {
    sure.hidden = true;
    clear.focus();
    own.forget();
    say(root, ['All of it is deleted from this device.']);
  });
}

/** @param {HTMLElement} root @param {string} name @param {Typed | null} typed @param {string} edition */
function keep(root, name, typed, edition) {
  const at = new Date().toISOString();
  sayKept(root, keepOwnFigure(name, typed && { name, ...typed, edition, at }));
}

/** @param {HTMLElement} root @param {boolean} isKept */
function sayKept(root, isKept) {
  const error = find(root, '[data-hb-own-error]');
  error.hidden = isKept;
  setText(error, isKept ? '' : NOT_KEPT);
}

let asked = 0;

/**
 * Says beside each figure what becomes of it.
 *
 * @param {HTMLElement} root
 */
async function tell(root) {
  asked += 1;
  const mine = asked;
  const [figures, instruments] = [ownFigures(), ownInstruments()];
  const request = {
    action: /** @type {const} */ ('own'),
    today: today(),
    own: figures,
    instruments,
  };
  const isAny = figures.length + instruments.length > 0;
  const reply = isAny ? await ownTold(request).catch(() => null) : null;
  if (mine !== asked) return; // what was typed since is told by its own reply
  for (const line of lines(root)) {
    const told = reply?.own?.[line.dataset.hbOwn ?? ''];
    ownField(line).tell(told?.state ?? '', told?.text ?? '');
  }
  tellInstruments(root, reply?.instruments ?? []);
}

export function startOwnPage() {
  own.onChange(showOwnPage);
}
