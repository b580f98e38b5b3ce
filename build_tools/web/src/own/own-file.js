/** What a reader keeps for every visit, as a file of their own: written, and read strictly. */

import { downloadText } from '../lib/download.js';
import { thisEdition } from '../lib/edition.js';
import { check } from '../visit/schema-check.js';
import schema from './own_kept.schema.json' with { type: 'json' };
import { ownFigures } from './own-figures.js';
import { ownInstruments } from './own-instruments.js';
import { own } from './own-kept.js';
import { ownPerson } from './own-person.js';

const { format, version } = schema.properties;
export const NOT_KEPT =
  'Not kept: this browser has no room, or blocks storage. It stands here until you leave the page.';
const MOST_SHOWN = 5;

/** @typedef {import('../visit/schema-check.js').Problem} Problem */

export function exportOwn() {
  const file = {
    ...{ format: format.const, version: version.const, edition: thisEdition()?.name ?? '' },
    written: new Date().toISOString(),
    ...{ figures: ownFigures(), instruments: ownInstruments(), ...ownPerson() },
  };
  downloadText('your_own.json', `${JSON.stringify(file, null, 1)}\n`, 'application/json');
}

/**
 * @param {string} text
 * @returns {{file: any, problems?: undefined} | {problems: string[], file?: undefined}}
 */
export function readOwn(text) {
  /** @type {any} */ let file;
  try {
    file = JSON.parse(text);
  } catch {
    return { problems: ['The file is not whole. Export it again, and take the whole file.'] };
  }
  if (file?.format !== format.const) {
    return { problems: ['This is no file of this page. Choose one that this page exported.'] };
  }
  if (typeof file.version === 'number' && file.version > version.const) {
    return { problems: ['A newer handbook wrote it. Import it in the newest edition.'] };
  }
  const found = check(file, schema, schema.$defs);
  const words = found.map(
    (each) => `${each.where}: found ${each.found}; expected ${each.expected}.`,
  );
  return found.length ? { problems: words.slice(0, MOST_SHOWN) } : { file };
}

/** @param {string} text @returns {string[]} what was done, for the reader */
export function importOwn(text) {
  const { file, problems } = readOwn(text);
  if (problems) return ['Nothing was imported, and nothing here was changed.', ...problems];
  const here = { figures: ownFigures(), instruments: ownInstruments() };
  const added = {
    figures: fresh(file.figures, here.figures, ({ name }) => name),
    instruments: fresh(file.instruments, here.instruments, ({ id }) => id).map((each) => ({
      ...each,
      // What is in use here stays so.
      in_use: each.in_use && here.instruments.length === 0,
    })),
  };
  const person = Object.entries(ownPerson()).map(([key, held]) => [key, held || file[key]]);
  const isKept = own.change({
    figures: [...here.figures, ...added.figures],
    instruments: [...here.instruments, ...added.instruments],
    ...Object.fromEntries(person),
  });
  if (!isKept) return [NOT_KEPT];
  const count = added.figures.length + added.instruments.length;
  const stay = file.figures.length + file.instruments.length - count;
  const words = [`Imported: ${count} of ${count + stay} figures and instruments.`];
  return stay ? [...words, `${stay} stand here already, and yours stay.`] : words;
}

/**
 * @template T
 * @param {T[]} found
 * @param {T[]} here
 * @param {(each: T) => string} of by which one is known
 */
function fresh(found, here, of) {
  const known = new Set(here.map(of));
  return found.filter((each) => !known.has(of(each)));
}
