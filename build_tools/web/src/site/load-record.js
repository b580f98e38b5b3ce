import { siteUrl } from '../lib/site-url.js';

/** What the visit record has to do with: its own page, readings, calculators, answers, ticks. */
const PLACES =
  '[data-hb-record], [data-hb-visit-page], li[data-hb-reading], hb-calculator, hb-checks, [data-hb-tick], [data-hb-cards-page]';

/** Scripts that only some pages need, by what stands in those. */
const SCRIPTS = [
  { places: PLACES, names: ['reading-facts.js', 'record.js'] },
  { places: '[data-hb-record]', names: ['record-page.js'] },
  { places: '[data-hb-visit-page]', names: ['checks.js'] },
  { places: '[data-hb-own-page]', names: ['own.js'] },
  { places: '[data-hb-cards-page]', names: ['cards.js'] },
];

/** @type {Set<string>} */
const loaded = new Set();

/** Loads the script of the visit record on the first page that has a place for readings. */
export function loadRecord() {
  for (const { places, names } of SCRIPTS) {
    if (loaded.has(places) || !document.querySelector(places)) continue;
    loaded.add(places);
    for (const name of names) {
      const script = document.createElement('script');
      script.src = new URL(`assets/handbook/${name}`, siteUrl()).href;
      script.async = false; // what readings are checked by is there before they are
      document.head.append(script);
    }
  }
}
