/**
 * Loaded into Playwright's driver before its own code, for the tests: `tests/conftest.py`.
 *
 * Each time that an expectation is not met yet, Playwright writes down the page as a screen reader
 * has it, in case that the test fails. On a long page this is a second of work, many times in most
 * tests, and keeps the page from what is waited for. A message then lacks it, and nothing else.
 */

import Module from 'node:module';

const FILE = 'coreBundle.js';
const WRITES = 'ariaSnapshotForExpectFailure(element, options) {';

/** @type {any} */
const { prototype } = Module;
const compile = prototype._compile;

/**
 * @this {any}
 * @param {string} text
 * @param {string} file
 * @param {...any} more
 */
function compileLightly(text, file, ...more) {
  if (!file.endsWith(FILE)) return compile.call(this, text, file, ...more);
  const parts = text.split(WRITES);
  if (parts.length !== 2)
    throw new Error(`${FILE} of this Playwright is another: see ${import.meta.url}`);
  return compile.call(this, parts.join(`${WRITES} return;`), file, ...more);
}

prototype._compile = compileLightly;
