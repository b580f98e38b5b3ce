/**
 * Opens a page in Firefox, runs a function there and tells what it gives, for the tests:
 * node run_in_firefox.mjs FIREFOX ADDRESS FUNCTION
 */

import { createRequire } from 'node:module';

// The packages of the front end lie beside its own files.
const FRONT_END = new URL('../../build_tools/web/package.json', import.meta.url);
const { default: puppeteer } = createRequire(FRONT_END)('puppeteer-core');

const VIEWPORT = { width: 810, height: 1080 };

const [program = '', address = '', text = ''] = process.argv.slice(2);
const browser = await puppeteer.launch({
  browser: 'firefox',
  executablePath: program,
  defaultViewport: VIEWPORT,
});
try {
  const page = await browser.newPage();
  await page.goto(address);
  process.stdout.write(JSON.stringify(await page.evaluate(`(${text})()`)));
} finally {
  await browser.close();
}
