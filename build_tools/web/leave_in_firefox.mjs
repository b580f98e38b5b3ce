/**
 * Types a reading in Firefox and leaves the page, again and again, for the tests:
 * node leave_in_firefox.mjs FIREFOX PLAN
 *
 * PLAN is JSON: the addresses, the scripts and every leave of tests/browser/leaving.py. What is told
 * is JSON too: for each leave what the field then holds.
 */

import puppeteer from 'puppeteer-core';

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

/** @param {string} way @param {number} ms @param {string} text */
async function left(way, ms, text) {
  const page = await browser.newPage();
  await page.goto(plan.rest);
  await page.goto(plan.steps);
  await until(page, plan.ready, Boolean);
  const before = await ask(page, plan.origin);
  await ask(page, plan.type.replace('TEXT', text).replace('MS', String(ms)).replace('WAY', way));
  if (way === 'close') {
    await rest(ms);
    await page.close();
  } else await until(page, plan.origin, (now) => now !== before);
  const next = way === 'close' ? await browser.newPage() : page;
  await next.goto(plan.steps);
  const found = await until(next, plan.value, (now) => now === text);
  await next.close();
  return found;
}

try {
  const keeper = await browser.newPage(); // the window stays when a tab is closed
  await keeper.goto(plan.rest);
  const told = [];
  for (const { way, ms, text } of plan.leaves) told.push(await left(way, ms, text));
  process.stdout.write(JSON.stringify(told));
} finally {
  await browser.close();
}
