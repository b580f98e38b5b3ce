import MiniSearch from 'minisearch';

import { siteUrl } from '../lib/site-url.js';

/** @typedef {{id: number, url: string, title: string, heading: string, text: string}} Entry */
/** @typedef {{entries: Entry[], synonyms: Record<string, string[]>}} Index */

const MOST = 12;
const OF_A_PAGE = 3;
const ENOUGH = 4; // letters typed before a synonym is guessed from its beginning
const A_GUESS = 0.3; // what such a guess counts beside the words that were typed

/** What is done comes before what is worked out, and lists of sources and figures come last. */
const WEIGHTS = /** @type {const} */ ([
  ['procedures/', 1.8],
  ['calculators/', 1.2],
  ['reference/sources', 0.3],
  ['reference/standings', 0.3],
]);

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
    searchOptions: {
      boost: { title: 4, heading: 2 },
      prefix: true,
      fuzzy: 0.2,
      combineWith: 'AND',
      boostDocument: (id) => weightOf(index.entries[id]?.url ?? ''),
    },
  });
  search.addAll(index.entries);
  const look = (/** @type {string} */ words) => {
    const strict = search.search(words);
    return strict.length ? strict : search.search(words, { combineWith: 'OR' });
  };
  return {
    find(/** @type {string} */ words) {
      const said = words.trim().toLowerCase();
      const asked = new Map([...inTheTrade(said, index.synonyms), [said, 1]]);
      /** @type {Map<number, number>} */
      const scores = new Map();
      for (const [words, weight] of asked) {
        for (const { id, score } of look(words)) {
          scores.set(id, (scores.get(id) ?? 0) + weight * score);
        }
      }
      const ids = [...scores].sort(([, one], [, other]) => other - one).map(([id]) => id);
      return fewOfEachPage(ids.flatMap((id) => index.entries[id] ?? [])).slice(0, MOST);
    },
  };
}

/** @param {string} url */
const weightOf = (url) => WEIGHTS.find(([start]) => url.startsWith(start))?.[1] ?? 1;

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
 * The trade's words for what was typed, where the list of synonyms has it or begins with it, each
 * with its weight.
 *
 * @param {string} said
 * @param {Record<string, string[]>} synonyms
 * @returns {Map<string, number>}
 */
function inTheTrade(said, synonyms) {
  const all = Object.entries(synonyms);
  const begun = said.length < ENOUGH ? [] : all.filter(([other]) => other.startsWith(said));
  const typed = all.filter(([other]) => ` ${said} `.includes(` ${other} `));
  const weighed = (/** @type {[string, string[]][]} */ found, /** @type {number} */ weight) =>
    found.flatMap(([, words]) => words.map((word) => /** @type {const} */ ([word, weight])));
  return new Map([...weighed(begun, A_GUESS), ...weighed(typed, 1)]);
}
