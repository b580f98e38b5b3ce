/**
 * Opens a page in Firefox, types readings and tells what then stands there, for the tests:
 * node answer_in_firefox.mjs FIREFOX ADDRESS READINGS FUNCTION
 *
 * READINGS is JSON, name to text. FUNCTION is run last, and what it gives is told too. Firefox is driven through the protocol that it has itself.
 */

import { createRequire } from 'node:module';

// The packages of the front end lie beside its own files.
const FRONT_END = new URL('../../build_tools/web/package.json', import.meta.url);
const { default: puppeteer } = createRequire(FRONT_END)('puppeteer-core');

const LATEST_MS = 120_000;
const SEARCHED = 'leak';

const [program = '', address = '', readings = '{}', walk = ''] = process.argv.slice(2);
// As people have it: puppeteer lets the pages of a folder share what they keep.
const extraPrefsFirefox = { 'security.fileuri.strict_origin_policy': true };
const browser = await puppeteer.launch({
  browser: 'firefox',
  executablePath: program,
  extraPrefsFirefox,
});
try {
  const page = await browser.newPage();
  page.setDefaultTimeout(LATEST_MS);
  await page.goto(address);
  await page.waitForSelector('[data-hb-form]:not([hidden])');
  for (const [name, text] of Object.entries(JSON.parse(readings))) {
    await page.type(`hb-calculator [name="${name}"]`, text);
  }
  await page.waitForSelector('hb-calculator[data-state="answered"]');
  await page.waitForFunction(() => performance.getEntriesByName('hb:first-answer').length > 0);
  await page.type('.md-search__input', SEARCHED);
  await page.waitForSelector('.md-search-result a');
  // A click by the mouse would hit the list of hits that lies over it.
  await page.$eval('[data-hb-keep]', (button) => /** @type {HTMLElement} */ (button).click());
  await page.waitForSelector('[data-hb-keep-bar] [role="status"]:not(:empty)');
  const found = await page.evaluate(() => ({
    first: performance.getEntriesByName('hb:first-answer')[0]?.startTime,
    answers: Object.fromEntries(
      [...document.querySelectorAll('[data-hb-own] [data-hb-answer]')].map((node) => [
        node.getAttribute('data-hb-answer'),
        node.textContent,
      ]),
    ),
    keeping: document.querySelector('[data-hb-keep-bar] [role="status"]')?.textContent,
    hits: document.querySelectorAll('.md-search-result a').length,
  }));
  const walked = await page.evaluate(walk);
  process.stdout.write(JSON.stringify({ ...found, walked }));
} finally {
  await browser.close();
}
