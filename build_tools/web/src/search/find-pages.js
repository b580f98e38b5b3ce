import MiniSearch from 'minisearch';

/** @typedef {{id: number, url: string, title: string, heading: string, text: string}} Entry */
/** @typedef {import('./find-symptoms.js').Symptom} Symptom */
/**
 * @typedef {object} Index
 * @property {Entry[]} entries
 * @property {Record<string, string[]>} synonyms
 * @property {Record<string, string>} kinds what a page is called, by the folder that it lies in
 * @property {Symptom[]} symptoms
 */
/** @typedef {{entry: Entry, score: number, terms: string[]}} Hit terms: words of it that were meant */

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

/**
 * @param {Pick<Index, 'entries' | 'synonyms'>} index
 * @returns {(words: string) => Hit[]} finds places in it, the likeliest first
 */
export function finder(index) {
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
  return (asked) => {
    const said = asked.trim().toLowerCase();
    const words = new Map([...inTheTrade(said, index.synonyms), [said, 1]]);
    /** @type {Map<number, {score: number, terms: string[]}>} */
    const found = new Map();
    for (const [word, weight] of words) {
      for (const { id, score, terms, queryTerms } of look(word)) {
        const before = found.get(id) ?? { score: 0, terms: [] };
        const sum = before.score + weight * score;
        const meant = terms.filter((term) => isTelling(term, queryTerms));
        found.set(id, { score: sum, terms: [...before.terms, ...meant] });
      }
    }
    const ranked = [...found].sort(([, one], [, other]) => other.score - one.score);
    const hits = ranked.flatMap(([id, hit]) => {
      const entry = index.entries[id];
      return entry ? [{ ...hit, entry }] : [];
    });
    return fewOfEachPage(hits).slice(0, MOST);
  };
}

/**
 * Whether a reader sees why a word was found: "off" was, for the "of" that was typed.
 *
 * @param {string} term
 * @param {string[]} asked
 */
const isTelling = (term, asked) =>
  term.length >= ENOUGH || asked.some((word) => word.length > 2 && term.startsWith(word));

/** @param {string} url */
const weightOf = (url) => WEIGHTS.find(([start]) => url.startsWith(start))?.[1] ?? 1;

/**
 * A long procedure would fill the list by itself.
 *
 * @param {Hit[]} hits
 */
function fewOfEachPage(hits) {
  /** @type {Map<string, number>} */
  const shown = new Map();
  return hits.filter(({ entry }) => {
    const count = (shown.get(entry.title) ?? 0) + 1;
    shown.set(entry.title, count);
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
