import MiniSearch from 'minisearch';

import { siteUrl } from './site-url.js';

/** @typedef {{id: number, url: string, title: string, heading: string, text: string}} Entry */
/** @typedef {{entries: Entry[], synonyms: Record<string, string>}} Index */

const MOST = 12;
const OF_A_PAGE = 3;
const ENOUGH = 4; // letters typed before a synonym is guessed from its beginning

/** @type {Promise<{find: (words: string) => Entry[]}> | null} */
let loading = null;

/** Loads the list of words as a script: a page opened from a folder may not fetch. */
export function loadWords() {
  loading ??= new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = new URL('assets/handbook/search-index.js', siteUrl()).href;
    script.addEventListener('load', () => resolve(prepare()));
    script.addEventListener('error', () => reject(new Error('The list of words did not load.')));
    document.head.append(script);
  });
  return loading;
}

function prepare() {
  const given = /** @type {{hbSearchIndex?: Index}} */ (window).hbSearchIndex;
  const index = given ?? { entries: [], synonyms: {} };
  /** @type {MiniSearch<Entry>} */
  const search = new MiniSearch({
    fields: ['title', 'heading', 'text'],
    // A page's title counts for its top alone, or each of its parts would crowd out other pages.
    extractField: (entry, name) =>
      name === 'title' && entry.heading ? '' : entry[/** @type {keyof Entry} */ (name)],
    searchOptions: { boost: { title: 4, heading: 2 }, prefix: true, fuzzy: 0.2, combineWith: 'AND' },
  });
  search.addAll(index.entries);
  const look = (/** @type {string} */ words) => {
    const strict = search.search(words);
    return strict.length ? strict : search.search(words, { combineWith: 'OR' });
  };
  return {
    find(/** @type {string} */ words) {
      const said = words.trim().toLowerCase();
      const asked = [...inTheTrade(said, index.synonyms), said];
      const ids = new Set(asked.flatMap(look).map((hit) => /** @type {number} */ (hit.id)));
      return fewOfEachPage([...ids].flatMap((id) => index.entries[id] ?? [])).slice(0, MOST);
    },
  };
}

/**
 * A long procedure would fill the list by itself.
 *
 * @param {Entry[]} entries
 */
function fewOfEachPage(entries) {
  /** @type {Map<string, number>} */
  const shown = new Map();
  return entries.filter(({ title }) => {
    const count = (shown.get(title) ?? 0) + 1;
    shown.set(title, count);
    return count <= OF_A_PAGE;
  });
}

/**
 * The trade's words for what was typed, where the list of synonyms has it or begins with it.
 *
 * @param {string} said
 * @param {Record<string, string>} synonyms
 */
function inTheTrade(said, synonyms) {
  const typed = (/** @type {string} */ other) =>
    ` ${said} `.includes(` ${other} `) || (said.length >= ENOUGH && other.startsWith(said));
  return new Set(Object.keys(synonyms).filter(typed).map((other) => synonyms[other] ?? ''));
}
