/** @typedef {import('./find-pages.js').Hit} Hit */

/**
 * What the theme's search box shows of one place. It takes title and text for HTML.
 *
 * @typedef {object} Item
 * @property {string} location address from the root of the site
 * @property {string} title
 * @property {string} text
 * @property {number} score
 * @property {Record<string, boolean>} terms
 */

const LONGEST = 110; // letters of the text below a hit
const LESS = 0.01; // the box tells scores apart by the hundredth

const ESCAPES = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/**
 * Hits as the box wants them: a group for each page, the page itself last in it. The place with the
 * highest score is where Enter leads; a lower score than the first would fold a place away.
 *
 * @param {Hit[]} hits the likeliest first
 * @returns {Item[][]}
 */
export function groups(hits) {
  /** @type {Map<string, Hit[]>} */
  const pages = new Map();
  for (const hit of hits) {
    const [page = ''] = hit.entry.url.split('#');
    pages.set(page, [...(pages.get(page) ?? []), hit]);
  }
  return [...pages].map(([page, found]) => group(page, found));
}

/** @param {string} page @param {Hit[]} found @returns {Item[]} */
function group(page, found) {
  const [best] = found;
  const score = best?.score ?? 0;
  const own = found.find(({ entry }) => entry.url === page);
  const places = found.filter((hit) => hit !== own);
  const whole = {
    ...item(own ?? { entry: { text: '' }, terms: [] }, score - (own === best ? 0 : LESS)),
    location: page,
    title: marked(
      best?.entry.title ?? '',
      found.flatMap(({ terms }) => terms),
    ),
  };
  return [...places.map((hit) => item(hit, score)), whole];
}

/**
 * @param {{entry: {url?: string, heading?: string, text: string}, terms: string[]}} hit
 * @param {number} score
 * @returns {Item}
 */
function item({ entry, terms }, score) {
  const { url = '', heading = '', text } = entry;
  const short = text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text;
  return {
    location: url,
    title: marked(heading || short, terms),
    text: heading ? marked(short, terms) : '',
    score,
    terms: {},
  };
}

/**
 * Text as HTML, with the words that were meant marked in it.
 *
 * @param {string} text
 * @param {string[]} terms
 */
function marked(text, terms) {
  const words = new Set(terms.map((term) => term.toLowerCase()));
  return text
    .split(/([\p{L}\p{N}]+)/u)
    .map((part) =>
      words.has(part.toLowerCase()) ? `<mark>${escaped(part)}</mark>` : escaped(part),
    )
    .join('');
}

/** @param {string} text */
const escaped = (text) =>
  text.replace(/[&<>"]/g, (letter) => ESCAPES[/** @type {keyof typeof ESCAPES} */ (letter)]);
