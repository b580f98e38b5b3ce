/**
 * Makes the snapshot: node write_snapshot.mjs RUNTIME LIBRARY PACKAGES BUNDLE REQUESTS OUT REPLIES
 *
 * REQUESTS is a JSON list of texts. Each is answered before freezing and again by the snapshot as a
 * browser starts it. REPLIES has both, for `snapshot.py` to hold against CPython's.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { createSnapshot } from './create_snapshot.mjs';
import { restoreSnapshot } from './src/worker/restore-snapshot.js';
import { packSnapshot } from './src/worker/snapshot-file.js';

const [runtime = '', library = '', packages = '', given = '', asked = '', out = '', replied = ''] =
  process.argv.slice(2);

const bundle = readFileSync(given, 'utf8');
/** @type {string[]} */
const requests = JSON.parse(readFileSync(asked, 'utf8'));
const frozen = await createSnapshot({ runtime, library, packages, bundle }, requests);

const file = packSnapshot(frozen.facts, frozen.memory);
const wasm = new WebAssembly.Module(readFileSync(join(runtime, 'pyodide.asm.wasm')));
const bridge = await restoreSnapshot(wasm, [file]);
const replies = {
  'before it is frozen': frozen.replies,
  'from the snapshot': requests.map((request) => bridge.answer(request)),
};
writeFileSync(out, file);
writeFileSync(replied, JSON.stringify(replies));
process.exit(0); // the runtime that was frozen keeps Node awake
