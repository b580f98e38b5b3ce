/**
 * The worker behind the theme's search box. It speaks the theme's four messages and knows the words
 * of the trade. The list of words comes with the first of these where a page was opened from a
 * folder, and is loaded at the first question elsewhere: most readers ask none.
 */

import { finder } from './find-pages.js';
import { symptomsIn } from './find-symptoms.js';
import { groups, stops } from './theme-result.js';

/** @typedef {import('./find-pages.js').Index} Index */
/** @typedef {[id: string, heading: string, text: string]} Place a part of a page */
/** @typedef {Omit<Index, 'entries'> & {pages: [path: string, title: string, Place[]][]}} Words */
/** @typedef {import('./theme-result.js').Item} Item */

const SET_UP = 0;
const READY = 1;
const ASKED = 2;
const ANSWERED = 3;
const WORDS = '../../search/search_index.js';
const LOST = 'The list of words did not load. Load the page again.';

const worker = /** @type {{importScripts: (url: string) => void, __index?: {docs: Words}}} */ (
  /** @type {unknown} */ (self)
);

/** @type {((asked: string) => Item[][]) | null} */
let answer = null;

addEventListener('message', ({ data: { type, data } }) => {
  if (type === SET_UP) {
    if (Array.isArray(data.docs.pages)) answer = answerer(indexOf(data.docs));
    postMessage({ type: READY });
  }
  if (type === ASKED) postMessage({ type: ANSWERED, data: { items: found(data) } });
});

/** @param {string} asked @returns {Item[][]} */
function found(asked) {
  if (!asked.trim()) return [];
  try {
    answer ??= answerer(loadedWords());
  } catch {
    return [[{ location: 'index.html', title: LOST, text: '', score: 1, terms: {} }]];
  }
  return answer(asked);
}

/** @param {Index} index @returns {(asked: string) => Item[][]} */
function answerer(index) {
  const find = finder(index);
  return (asked) => {
    const hits = find(asked);
    const first = symptomsIn(asked, index.symptoms);
    return [...stops(first, index, hits[0]?.score ?? 0), ...groups(hits, index.kinds)];
  };
}

/** @param {Words} words @returns {Index} each place of a page as an entry of its own */
function indexOf({ pages, ...words }) {
  const places = pages.flatMap(([path, title, within]) =>
    within.map(([id, heading, text]) => ({
      url: id ? `${path}#${id}` : path,
      title,
      heading,
      text,
    })),
  );
  return { ...words, entries: places.map((place, id) => ({ id, ...place })) };
}

/** @returns {Index} */
function loadedWords() {
  worker.importScripts(new URL(WORDS, location.href).href);
  if (!worker.__index) throw new Error(LOST);
  return indexOf(worker.__index.docs);
}
