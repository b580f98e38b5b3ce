/**
 * Types a reading in Firefox and leaves the page, again and again, for the tests:
 * node leave_in_firefox.mjs FIREFOX PLAN
 *
 * PLAN is JSON: the addresses, the scripts and every leave of tests/browser/leaving.py. What is told
 * is JSON too: for each leave what the field then holds.
 */

import { createRequire } from 'node:module';

// The packages of the front end lie beside its own files.
const FRONT_END = new URL('../../build_tools/web/package.json', import.meta.url);
const { default: puppeteer } = createRequire(FRONT_END)('puppeteer-core');

const LATEST_MS = 60_000;
const ASK_AGAIN_MS = 5_000; // a page that is left while it is asked now and then never says so
const STEP_MS = 20;

const [program = '', given = '{}'] = process.argv.slice(2);
const plan = JSON.parse(given);
// What the browser does around a page is not tried, and is half of its work: telling of each request,
// turning the mark of a tab that loads, writing down which tabs and pages there were.
const browser = await puppeteer.launch({
  browser: 'firefox',
  executablePath: program,
  networkEnabled: false,
  extraPrefsFirefox: {
    'browser.chrome.site_icons': false,
    'browser.sessionstore.interval': 3_600_000,
    'places.history.enabled': false,
    'toolkit.cosmeticAnimations.enabled': false,
    'ui.prefersReducedMotion': 1,
  },
});

/** @param {number} ms */
const rest = (ms) => new Promise((done) => setTimeout(done, ms));

/**
 * @param {string} script
 * @param {Record<string, string | number>} told what stands in the place of the names in it
 */
const fill = (script, told) =>
  Object.entries(told).reduce((all, [name, it]) => all.replaceAll(name, String(it)), script);

/**
 * @param {Promise<any>} answer
 * @returns {Promise<any>} the same, as long as it comes soon
 */
function soon(answer) {
  answer.catch(() => {}); // it may fail when nobody waits for it any more
  const late = rest(ASK_AGAIN_MS).then(() => {
    throw new Error('The page was asked and gave no answer.');
  });
  late.catch(() => {});
  return Promise.race([answer, late]);
}

/**
 * What a script gives, or what it waits for.
 *
 * @param {import('puppeteer-core').Page} page
 * @param {string} script
 * @param {Record<string, string | number>} [told]
 * @returns {Promise<any>}
 */
async function ask(page, script, told = {}) {
  const latest = Date.now() + LATEST_MS;
  for (;;) {
    try {
      return await soon(page.evaluate(fill(script, told)));
    } catch (problem) {
      // The page is on its way to another, or was left before it could say.
      if (Date.now() > latest) throw problem;
    }
    await rest(STEP_MS);
  }
}

/**
 * @param {import('puppeteer-core').Page} page
 * @param {{way: string, ms: number, text: string}} leave
 * @returns {Promise<{page: import('puppeteer-core').Page, found: string | null}>} where it stands
 *   then, and what the field holds there
 */
async function left(page, { way, ms, text }) {
  const before = await ask(page, plan.ready);
  // Without an answer: the page may be gone before it could give one.
  await page.evaluate(fill(plan.type, { TEXT: text, MS: ms, WAY: way })).catch(() => null);
  let next = page;
  if (way === 'close') {
    await rest(ms);
    await page.close();
    next = await browser.newPage();
    await next.goto(plan.steps);
  }
  return { page: next, found: await ask(next, plan.arrived, { TEXT: text, BEFORE: before }) };
}

try {
  await browser.newPage(); // the window stays when a tab is closed
  let page = await browser.newPage();
  await page.goto(plan.steps);
  const told = [];
  for (const leave of plan.leaves) {
    const after = await left(page, leave);
    page = after.page;
    told.push(after.found);
  }
  process.stdout.write(JSON.stringify(told));
} finally {
  await browser.close();
}
