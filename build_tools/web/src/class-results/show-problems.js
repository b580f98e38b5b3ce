/** What could not be counted: which file, what was found, what was expected and what to do. */

import { make } from '../practice/elements.js';

/** @typedef {import('./ask-class.js').Problem} Problem */

/**
 * One line for all files with which the same is wrong.
 *
 * @param {Problem[]} problems
 * @param {{chosen: number, files: number}} count
 * @param {boolean} isAll whether nothing could be counted
 */
export function problemsPart(problems, { chosen, files }, isAll) {
  /** @type {Map<string, Problem[]>} */ const alike = new Map();
  for (const problem of problems) {
    const { found, expected, fix } = problem;
    const key = JSON.stringify([found, expected, fix]);
    alike.set(key, [...(alike.get(key) ?? []), problem]);
  }
  const title = isAll
    ? 'What is wrong with the files'
    : `${files} of ${chosen} files are counted. Not counted:`;
  const list = make('ul', { is: 'hb-list' }, [...alike.values()].map(lineOf));
  const part = make('div', { is: 'hb-results__problems' });
  part.append(make('p', {}, [make('b', { text: title })]), list);
  return part;
}

/** @param {Problem[]} alike */
function lineOf(alike) {
  const [first] = alike;
  const names = alike.map(({ file, where }) => (where ? `${file}, ${where}` : file));
  const said = `: found ${first?.found}; expected ${first?.expected}. What to do: ${first?.fix}.`;
  return make('li', {}, [make('b', { text: names.join('; ') }), said]);
}
