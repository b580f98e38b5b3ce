/** @typedef {import('./find-pages.js').Hit} Hit */
/** @typedef {import('./find-pages.js').Index} Index */
/** @typedef {import('./find-symptoms.js').Symptom} Symptom */

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

// The shape of a stop: templates/warning_signs.html.jinja has the same.
const OCTAGON =
  '<svg class="hb-sign" viewBox="0 0 24 24" aria-hidden="true">' +
  '<path class="hb-sign__plate" d="M8 2h8l6 6v8l-6 6H8l-6-6V8z"/>' +
  '<path class="hb-sign__line" d="M7 12h10"/></svg>';

const ESCAPES = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/**
 * What is told before anything that was found: to stop, and what to do first.
 *
 * @param {Symptom[]} symptoms
 * @param {Index} index
 * @param {number} score the highest of what was found: Enter leads to the highest of all
 * @returns {Item[][]}
 */
export function stops(symptoms, { entries }, score) {
  return symptoms.map(({ say, url }, place) => {
    const act = entries.find((entry) => entry.url === url)?.heading ?? '';
    const words = `<span>${escaped(say)} <small>${escaped(act)}</small></span>`;
    const title = `<span class="hb-found-stop">${OCTAGON} ${words}</span>`;
    return [{ location: url, title, text: '', score: score + symptoms.length - place, terms: {} }];
  });
}

/**
 * Hits as the box wants them: a group for each page, the page itself last in it. The place with the
 * highest score is where Enter leads; a lower score than the first would fold a place away.
 *
 * @param {Hit[]} hits the likeliest first
 * @param {Index['kinds']} kinds
 * @returns {Item[][]}
 */
export function groups(hits, kinds) {
  /** @type {Map<string, Hit[]>} */
  const pages = new Map();
  for (const hit of hits) {
    const [page = ''] = hit.entry.url.split('#');
    pages.set(page, [...(pages.get(page) ?? []), hit]);
  }
  return [...pages].map(([page, found]) =>
    group(page, found, kinds[page.split('/', 1)[0] ?? ''] ?? ''),
  );
}

/** @param {string} page @param {Hit[]} found @param {string} kind @returns {Item[]} */
function group(page, found, kind) {
  const [best] = found;
  const score = best?.score ?? 0;
  const own = found.find(({ entry }) => entry.url === page);
  const places = found.filter((hit) => hit !== own);
  const meant = found.flatMap(({ terms }) => terms);
  const whole = {
    ...item(own ?? { entry: { text: '' }, terms: [] }, score - (own === best ? 0 : LESS)),
    location: page,
    title: `${kind && `<small>${escaped(kind)}</small> `}${marked(best?.entry.title ?? '', meant)}`,
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
  // Cut between two words.
  const short = text.length > LONGEST ? `${text.slice(0, LONGEST).replace(/\s+\S*$/, '')} …` : text;
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
