/**
 * Makes the snapshot: node write_snapshot.mjs RUNTIME LIBRARY WHEELS BUNDLE CASES OUT
 *
 * CASES has one JSON text a line: [request, reply], the reply as CPython gave it. Each is
 * answered before freezing and again by the snapshot as a browser starts it. All must be the same,
 * digit for digit, or nothing is written.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { createSnapshot } from './create_snapshot.mjs';
import { restoreSnapshot } from './src/worker/restore-snapshot.js';
import { packSnapshot } from './src/worker/snapshot-file.js';

/** Letters shown on each side of a difference. */
const AROUND = 60;

const [runtime = '', library = '', wheels = '', bundle = '', casesFile = '', out = ''] =
  process.argv.slice(2);

/** @type {[string, string][]} */
const cases = readFileSync(casesFile, 'utf8')
  .split('\n')
  .filter(Boolean)
  .map((line) => JSON.parse(line));
const requests = cases.map(([request]) => request);
const { facts, memory, replies } = await createSnapshot(
  { runtime, library, wheels, bundle: readFileSync(bundle, 'utf8') },
  requests,
);
compare(replies, 'before it is frozen');

const file = packSnapshot(facts, memory);
const wasm = new WebAssembly.Module(readFileSync(join(runtime, 'pyodide.asm.wasm')));
const bridge = await restoreSnapshot(wasm, [file]);
compare(
  requests.map((request) => bridge.answer(request)),
  'from the snapshot',
);
writeFileSync(out, file);
process.exit(0); // the runtime that was frozen keeps Node awake

/** @param {string[]} found @param {string} when */
function compare(found, when) {
  const different = cases.flatMap(([request, expected], index) =>
    found[index] === expected ? [] : [`${request}\n${difference(expected, found[index] ?? '')}`],
  );
  if (different.length === 0) return;
  process.stderr.write(`Python ${when} answers otherwise than CPython:\n${different.join('\n')}\n`);
  process.exit(1);
}

/** @param {string} expected @param {string} found @returns {string} where they part */
function difference(expected, found) {
  let at = 0;
  while (expected[at] === found[at]) at += 1;
  const [from, to] = [Math.max(0, at - AROUND), at + AROUND];
  return `  CPython: …${expected.slice(from, to)}…\n  here:    …${found.slice(from, to)}…`;
}
