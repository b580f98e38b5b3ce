/** Export, import and print. */

import { downloadText } from '../lib/download.js';
import { find } from '../lib/find.js';
import { showImported, showWords } from '../visit/bring-in.js';
import { csvOf } from '../visit/csv.js';
import { importVisits } from '../visit/import-visits.js';
import { openVisit } from '../visit/open-visit.js';
import { whyNot } from '../visit/reading-check.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { printBlank } from './record-print.js';
import { fileName, fileOf } from './visit-file.js';
import { linesOf } from './visit-view.js';

const JSON_TYPE = 'application/json';

/** @param {HTMLElement} root @param {number} visits how many there are */
export function showExports(root, visits) {
  const enable = (/** @type {string} */ name, /** @type {boolean} */ can) => {
    const button = /** @type {HTMLButtonElement} */ (find(root, `[data-hb-export="${name}"]`));
    button.disabled = !can;
  };
  enable('one', openVisit.visit !== null);
  enable('table', openVisit.visit !== null);
  enable('all', visits > 0);
}

/** @param {HTMLElement} root */
export function startExportImport(root) {
  const said = find(root, '[data-hb-import-said]');
  const failed = (/** @type {unknown} */ error) =>
    showWords(said, [storageErrorWords(storageErrorOf(error))]);
  root.addEventListener('click', (event) => {
    const button = event.target instanceof Element && event.target.closest('[data-hb-export]');
    if (button instanceof HTMLElement)
      exportOrPrint(button.dataset.hbExport ?? '', root).catch(failed);
  });
  const field = /** @type {HTMLInputElement} */ (find(root, '[data-hb-import]'));
  field.addEventListener('change', () => {
    const file = field.files?.[0];
    if (!file) return;
    importVisits(file)
      .then((done) => showImported(said, file.name, done))
      .catch(failed)
      .finally(() => (field.value = '')); // so that the same file can be tried again
  });
}

/** @param {string} what @param {HTMLElement} root */
async function exportOrPrint(what, root) {
  const { visit } = openVisit;
  if (what === 'print') return print();
  if (what === 'blank') return printBlank(root);
  if (what === 'all') {
    return downloadText(
      'visits.json',
      JSON.stringify(await fileOf(null, root), null, 1),
      JSON_TYPE,
    );
  }
  if (!visit) return;
  const file = await fileOf([visit.id], root);
  const [whole] = file.visits;
  if (what === 'one') {
    downloadText(fileName(visit.name, 'json'), JSON.stringify(file, null, 1), JSON_TYPE);
  } else if (whole) {
    const lines = linesOf(root);
    const groupOf = (/** @type {string} */ name) =>
      lines
        .get(name)
        ?.closest('details')
        ?.querySelector('summary')
        ?.firstChild?.textContent?.trim() ?? '';
    downloadText(fileName(visit.name, 'csv'), csvOf(whole, groupOf, whyNot), 'text/csv');
  }
}
