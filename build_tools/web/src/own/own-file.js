/** What a reader keeps for every visit, as a file of their own: written, and read again. */

import { downloadText } from '../lib/download.js';
import { thisEdition } from '../lib/edition.js';
import { figuresIn, ownFigures } from './own-figures.js';
import { own } from './own-kept.js';

const FORMAT = 'gas-commissioning-own-figures';
const VERSION = 1;
export const NOT_KEPT = 'Not kept: this browser has no room, or blocks storage.';

export function exportOwn() {
  const file = {
    ...{ format: FORMAT, version: VERSION, edition: thisEdition()?.name ?? '' },
    written: new Date().toISOString(),
    figures: ownFigures(),
  };
  downloadText('your_own.json', `${JSON.stringify(file, null, 1)}\n`, 'application/json');
}

/** @param {string} text @returns {string} what was done, for the reader */
export function importOwn(text) {
  /** @type {any} */ let file;
  try {
    file = JSON.parse(text);
  } catch {
    return 'Nothing was imported: the file is not whole. Export it again, and take the whole file.';
  }
  if (file?.format !== FORMAT) {
    return 'Nothing was imported: this is no file of figures. Choose one that this page exported.';
  }
  if (file.version !== VERSION) {
    return 'Nothing was imported: a newer handbook wrote it. Import it in the newest edition.';
  }
  const found = figuresIn(file.figures);
  const here = ownFigures();
  const names = new Set(here.map(({ name }) => name));
  const fresh = found.filter(({ name }) => !names.has(name));
  if (!own.change({ figures: [...here, ...fresh] })) return NOT_KEPT;
  const words = `${found.length} ${found.length === 1 ? 'figure' : 'figures'} in the file.`;
  const stay = found.length - fresh.length;
  return stay ? `${words} ${stay} stand here already, and yours stay.` : words;
}
