/** On the page of the visit: add an appliance to the visit, name one, take one out. */

import { find, setText } from '../lib/find.js';
import {
  addAppliance,
  applianceName,
  removeAppliance,
  renameAppliance,
} from '../visit/change-appliances.js';
import { openVisit } from '../visit/open-visit.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';

/** @returns {{id: string, name: string}} the one that is worked on */
const current = () =>
  openVisit.appliances.find(({ id }) => id === openVisit.appliance) ?? { id: '', name: '' };

/** @param {HTMLElement} root */
export function showApplianceForms(root) {
  const { visit, appliances } = openVisit;
  find(root, '[data-hb-appliance-forms]').hidden = visit === null;
  const { id, name } = current();
  const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-appliance-name]'));
  if (document.activeElement !== field || field.dataset.of !== id) field.value = name;
  field.dataset.of = id;
  const sure = find(root, '[data-hb-appliance-sure]');
  if (sure.dataset.of !== id) sure.hidden = true;
  sure.dataset.of = id;
  const out = find(root, '[data-hb-appliance-act="out"]');
  out.hidden = appliances.length < 2;
  setText(out, `Take out ${name}`);
  const own = openVisit.allEntries.filter(({ appliance }) => appliance === id);
  const count = own.filter(({ kind }) => kind === 'reading').length;
  const held = `${count} ${count === 1 ? 'reading' : 'readings'}`;
  setText(
    find(root, '[data-hb-appliance-sure-words]'),
    `Take out “${name}” with ${held} and all else of its own? It can't be brought back. What all share stays.`,
  );
}

/** @param {HTMLElement} root */
export function startApplianceForms(root) {
  const said = find(root, '[data-hb-appliance-said]');
  const tell = (/** @type {Promise<string>} */ doing) =>
    void doing.then(
      (words) => setText(said, words),
      (error) => setText(said, storageErrorWords(storageErrorOf(error))),
    );
  find(root, '[data-hb-appliance-rename]').addEventListener('submit', (event) => {
    event.preventDefault();
    const { value } = /** @type {HTMLInputElement} */ (find(root, '[data-hb-appliance-name]'));
    const name = applianceName(value);
    if (!name) setText(said, 'An appliance needs a name. It keeps the one that it has.');
    else tell(renameAppliance(openVisit.appliance, name).then(() => `Its name is “${name}”.`));
  });
  find(root, '[data-hb-appliance-new]').addEventListener('submit', (event) => {
    event.preventDefault();
    const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-appliance-new-name]'));
    const adding = addAppliance(applianceName(field.value));
    field.value = '';
    tell(adding.then(() => `Readings go to “${current().name}”.`));
  });
  find(root, '[data-hb-appliance-forms]').addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('[data-hb-appliance-act]') : null;
    if (button instanceof HTMLElement) pressed(button.dataset.hbApplianceAct ?? '', root, tell);
  });
}

/** @param {string} act @param {HTMLElement} root @param {(doing: Promise<string>) => void} tell */
function pressed(act, root, tell) {
  const sure = find(root, '[data-hb-appliance-sure]');
  sure.hidden = act !== 'out';
  if (act === 'out') find(sure, '[data-hb-appliance-act="spare"]').focus();
  else find(root, '[data-hb-appliance-act="out"]').focus();
  if (act !== 'out-now') return;
  const { id, name } = current();
  tell(removeAppliance(id).then(() => `“${name}” is taken out.`));
}
