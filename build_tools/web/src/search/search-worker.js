/**
 * The worker behind the theme's search box. It speaks the theme's four messages and knows the words
 * of the trade. The list of words comes with the first of these where a page was opened from a
 * folder, and is loaded at the first question elsewhere: most readers ask none.
 */

import { finder } from './find-pages.js';
import { groups } from './theme-result.js';

/** @typedef {import('./find-pages.js').Index} Index */
/** @typedef {import('./theme-result.js').Item} Item */

const SET_UP = 0;
const READY = 1;
const ASKED = 2;
const ANSWERED = 3;
const WORDS = '../../search/search_index.js';
const LOST = 'The list of words did not load. Load the page again.';

const worker = /** @type {{importScripts: (url: string) => void, __index?: {docs: Index}}} */ (
  /** @type {unknown} */ (self)
);

/** @type {ReturnType<typeof finder> | null} */
let find = null;

addEventListener('message', ({ data: { type, data } }) => {
  if (type === SET_UP) {
    if (Array.isArray(data.docs.entries)) find = finder(data.docs);
    postMessage({ type: READY });
  }
  if (type === ASKED) postMessage({ type: ANSWERED, data: { items: answer(data) } });
});

/** @param {string} asked @returns {Item[][]} */
function answer(asked) {
  if (!asked.trim()) return [];
  try {
    find ??= finder(loadedWords());
  } catch {
    return [[{ location: 'index.html', title: LOST, text: '', score: 1, terms: {} }]];
  }
  return groups(find(asked));
}

/** @returns {Index} */
function loadedWords() {
  worker.importScripts(new URL(WORDS, location.href).href);
  if (!worker.__index) throw new Error(LOST);
  return worker.__index.docs;
}
