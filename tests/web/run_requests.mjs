/**
 * Answers requests with the built runtime: node run_requests.mjs RUNTIME snapshot|ordinary
 *
 * One request a line comes in, one reply a line goes out, both JSON as `calcs.bridge` has it.
 */

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import { gunzipSync } from 'node:zlib';

import { openBridge } from '../../build_tools/web/src/worker/ordinary-start.js';
import { restoreSnapshot } from '../../build_tools/web/src/worker/restore-snapshot.js';
import { SNAPSHOT, WASM } from '../../build_tools/web/src/worker/snapshot-start.js';

const [folder = '', way = 'snapshot'] = process.argv.slice(2);
const runtime = resolve(folder);

const PART = 65_521;

const requests = (await text(process.stdin)).split('\n').filter(Boolean);
const bridge = await (way === 'ordinary' ? ordinary() : fromSnapshot());
process.stdout.write(requests.map((request) => `${bridge.answer(request)}\n`).join(''), () =>
  process.exit(0),
);

async function fromSnapshot() {
  const wasm = new WebAssembly.Module(readFileSync(join(runtime, WASM)));
  const file = new Uint8Array(gunzipSync(readFileSync(join(runtime, SNAPSHOT))));
  // In parts of an odd size, as it comes to a browser: numbers and runs lie across their ends.
  const parts = Array.from({ length: Math.ceil(file.length / PART) }, (_, at) =>
    file.subarray(at * PART, (at + 1) * PART),
  );
  return restoreSnapshot(wasm, parts);
}

async function ordinary() {
  const { loadPyodide } = createRequire(import.meta.url)(join(runtime, 'pyodide.js'));
  const quiet = () => {};
  const indexURL = `${runtime}/`;
  return openBridge(
    await loadPyodide({ indexURL, packageBaseUrl: indexURL, packages: ['calcs'], stdout: quiet }),
  );
}
