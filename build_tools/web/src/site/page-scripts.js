import { siteUrl } from '../lib/site-url.js';

/** What the visit record has to do with: its own page, readings, calculators, answers, ticks. */
const OF_A_VISIT =
  '[data-hb-record], [data-hb-visit-page], li[data-hb-reading], hb-calculator, hb-checks, [data-hb-tick], [data-hb-cards-page]';

/** Scripts that only some pages need, by what stands in those. */
const SCRIPTS = [
  { places: OF_A_VISIT, names: ['reading-facts.js', 'record.js'] },
  { places: '[data-hb-record]', names: ['record-page.js'] },
  { places: '[data-hb-visit-page]', names: ['visit-page.js'] },
  { places: '[data-hb-own-page]', names: ['own.js'] },
  { places: '[data-hb-cards-page]', names: ['cards.js'] },
  {
    places: '[data-hb-practice], [data-hb-papers], [data-hb-results]',
    names: ['practice-questions.js'],
  },
  { places: '[data-hb-practice]', names: ['practice.js'] },
  { places: '[data-hb-papers]', names: ['papers.js'] },
  { places: '[data-hb-results]', names: ['results.js'] },
];

/** Those that the page which was loaded names itself, so that they come sooner. */
const NAMED = 'script[data-hb-kind-script]';

/** @type {Set<string | undefined>} */
const asked = new Set(
  [...document.querySelectorAll(NAMED)].map((each) => each.getAttribute('src')?.split('/').at(-1)),
);

/** Loads what the page that is shown needs and none before it needed. */
export function loadScripts() {
  for (const { places, names } of SCRIPTS) {
    if (document.querySelector(places)) for (const name of names) load(name);
  }
}

/** @param {string} name */
function load(name) {
  if (asked.has(name)) return;
  asked.add(name);
  const script = document.createElement('script');
  script.src = new URL(`assets/handbook/${name}`, siteUrl()).href;
  script.async = false; // in their order: what readings are checked by is there before they are
  script.addEventListener('error', () => asked.delete(name)); // the next page asks again
  document.head.append(script);
}
