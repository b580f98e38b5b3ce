import { siteUrl } from '../lib/site-url.js';

/** What the visit record has to do with: its own page, readings to write down, calculators. */
const PLACES = '[data-hb-record], li[data-hb-reading], hb-calculator, hb-checks';

let isLoaded = false;

/** Loads the script of the visit record on the first page that has a place for readings. */
export function loadRecord() {
  if (isLoaded || !document.querySelector(PLACES)) return;
  isLoaded = true;
  for (const name of ['reading-facts.js', 'record.js']) {
    const script = document.createElement('script');
    script.src = new URL(`assets/handbook/${name}`, siteUrl()).href;
    script.async = false; // what readings are checked by is there before they are
    document.head.append(script);
  }
}
