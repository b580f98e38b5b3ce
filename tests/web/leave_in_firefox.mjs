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

const LATEST_MS = 20_000;
const STEP_MS = 20;

const [program = '', given = '{}'] = process.argv.slice(2);
const plan = JSON.parse(given);
const browser = await puppeteer.launch({ browser: 'firefox', executablePath: program });

/** @param {number} ms */
const rest = (ms) => new Promise((done) => setTimeout(done, ms));

/**
 * @param {import('puppeteer-core').Page} page
 * @param {string} script
 * @returns {Promise<any>} null while the page is on its way to another
 */
const ask = (page, script) => page.evaluate(script).catch(() => null);

/**
 * @param {import('puppeteer-core').Page} page
 * @param {string} script
 * @param {(found: any) => boolean} isIt
 */
async function until(page, script, isIt) {
  const latest = Date.now() + LATEST_MS;
  for (;;) {
    const found = await ask(page, script);
    if ((found !== null && isIt(found)) || Date.now() > latest) return found;
    await rest(STEP_MS);
  }
}

/**
 * @param {import('puppeteer-core').Page} page
 * @param {{way: string, ms: number, text: string}} leave
 * @returns {Promise<import('puppeteer-core').Page>} where it should stand then
 */
async function left(page, { way, ms, text }) {
  await until(page, plan.ready, Boolean);
  const before = await ask(page, plan.origin);
  const told = { TEXT: text, MS: String(ms), WAY: way };
  const script = Object.entries(told).reduce(
    (all, [name, it]) => all.replaceAll(name, it),
    plan.type,
  );
  await ask(page, script);
  if (way !== 'close') {
    await until(page, plan.origin, (now) => now !== before);
    return page;
  }
  await rest(ms);
  await page.close();
  const next = await browser.newPage();
  await next.goto(plan.steps);
  return next;
}

try {
  await browser.newPage(); // the window stays when a tab is closed
  let page = await browser.newPage();
  await page.goto(plan.steps);
  const told = [];
  for (const leave of plan.leaves) {
    page = await left(page, leave);
    told.push(await until(page, plan.value, (now) => now === leave.text));
  }
  process.stdout.write(JSON.stringify(told));
} finally {
  await browser.close();
}
