/**
 * Makes the snapshot: node write_snapshot.mjs RUNTIME LIBRARY PACKAGES OUT REPLIES
 *
 * Python starts and imports PACKAGES, which are other people's. Then the standard input says, as
 * JSON, where `calcs` is, which `bundle` it works from and which `requests` it is sent, a list of
 * texts. Each is answered before freezing and again by the snapshot as a browser starts it. REPLIES
 * has both, for `snapshot.py` to hold against CPython's.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { setFlagsFromString } from 'node:v8';

import { createSnapshot, startPython } from './create_snapshot.mjs';
import { restoreSnapshot } from './src/worker/restore-snapshot.js';
import { packSnapshot } from './src/worker/snapshot-file.js';

const [runtime = '', library = '', packages = '', out = '', replied = ''] = process.argv.slice(2);

setFlagsFromString('--liftoff-only'); // better machine code takes longer to make than it saves
const started = await startPython({ runtime, library, packages });
/** @type {import('./create_snapshot.mjs').Given} */
const given = JSON.parse(await text(process.stdin));
const frozen = createSnapshot(started, given);

const file = packSnapshot(frozen.facts, frozen.memory);
const wasm = new WebAssembly.Module(readFileSync(join(runtime, 'pyodide.asm.wasm')));
const bridge = await restoreSnapshot(wasm, [file]);
const replies = {
  'before it is frozen': frozen.replies,
  'from the snapshot': given.requests.map((request) => bridge.answer(request)),
};
writeFileSync(out, file);
writeFileSync(replied, JSON.stringify(replies));
process.exit(0); // the runtime that was frozen keeps Node awake
