/** Brings in what a file of visits or of cards holds. Nothing that is here is ever changed by it. */

import { setText } from '../lib/find.js';
import { freeName, newId } from './visit-name.js';

/** @typedef {import('./schema-check.js').Problem} Problem */
/** @typedef {{words: string[], problems?: Problem[]}} Imported */

/** A visit or a card takes some kilobytes. */
const LARGEST_BYTES = 5_000_000;
const MOST_SHOWN = 50;

/**
 * The text of a file, or why it is not read.
 *
 * @param {File} file
 * @param {string} things what it holds, as "visits"
 * @returns {Promise<{text: string, refused?: undefined} | {refused: Imported, text?: undefined}>}
 */
export async function textOf(file, things) {
  if (file.size <= LARGEST_BYTES) return { text: await file.text() };
  const [found = '', most] = [file.size, LARGEST_BYTES].map(
    (each) => `${(each / 1e6).toFixed(1)} MB`,
  );
  const fix = `Export fewer ${things} at a time.`;
  const problem = { where: 'the file', found, expected: `at most ${most}`, fix };
  return { refused: { words: [], problems: [problem] } };
}

/**
 * What of a file is to be added beside what is here, and what is told of each.
 *
 * @template {{id: string, name: string}} Thing
 * @template {{id: string, name: string}} Here
 * @param {Thing[]} read
 * @param {Here[]} here
 * @param {(twin: Here, thing: Thing) => boolean} isSame of two of one id
 * @returns {{added: Thing[], words: string[]}}
 */
export function beside(read, here, isSame) {
  const names = here.map(({ name }) => name);
  /** @type {Thing[]} */ const added = [];
  const words = read.map((thing) => {
    const twin = here.find(({ id }) => id === thing.id);
    if (twin && isSame(twin, thing)) return `“${thing.name}” is here already, just the same.`;
    const name = freeName(thing.name, names);
    names.push(name);
    added.push({ ...thing, name, id: twin ? newId() : thing.id });
    return twin
      ? `“${thing.name}” is here already, and differs. Both are kept: the one from the file is “${name}”.`
      : `“${name}” is imported.`;
  });
  return { added, words };
}

/** @param {HTMLElement} place @param {string} name of the file @param {Imported} done */
export function showImported(place, name, { words, problems }) {
  if (!problems) {
    showWords(place, words);
    return;
  }
  showWords(place, [`Nothing was imported from ${name}, and nothing here was changed.`]);
  const list = document.createElement('ul');
  list.className = 'hb-list';
  for (const { where, found, expected, fix } of problems.slice(0, MOST_SHOWN)) {
    const item = document.createElement('li');
    item.textContent = `${where}: found ${found}; expected ${expected}. ${fix}`;
    list.append(item);
  }
  const rest = problems.length - MOST_SHOWN;
  place.append(list, ...(rest > 0 ? [`And ${rest} more.`] : []));
}

/** @param {HTMLElement} place @param {string[]} words a line each */
export function showWords(place, words) {
  const lines = words.map((text) => {
    const line = document.createElement('p');
    setText(line, text);
    return line;
  });
  place.replaceChildren(...lines);
}
