/**
 * Starts the pinned runtime in Node, imports the calculators and keeps the memory as it then is.
 * `src/worker/restore-snapshot.js` brings it back. No other file knows how the runtime's memory is
 * kept.
 *
 * The same source gives the same bytes: the clock stands still, the seed of hashes and the random
 * numbers are fixed, and nothing of this machine reaches the memory.
 */

import crypto from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Bridge } from './src/worker/restore-snapshot.js';
import { differingRuns } from './src/worker/snapshot-file.js';

const HERE = dirname(fileURLToPath(import.meta.url));
const PACKAGES = '/lib/python3.13/site-packages';
const PAGE = 65536;
const LARGEST_GAP = PAGE;
const SMALLEST_GAP = 8;

/** Python of any start, told the same whatever the machine. */
const PYTHON = {
  env: { PYTHONHASHSEED: '0', HOME: '/home/pyodide', LANG: 'C.UTF-8', USER: 'web_user' },
  _sysExecutable: './this.program',
  args: [],
};

/**
 * @typedef {object} Parts
 * @property {string} runtime folder of the runtime's own files
 * @property {string} library zip file of the standard library
 * @property {string} packages folder of other people's packages
 *
 * @typedef {object} Given
 * @property {string} calcs folder of the calculators
 * @property {string} bundle figures and words, for `calcs.bridge.load`
 * @property {string[]} requests each is answered once, so that nothing is left to be imported
 */

/**
 * Starts Python and imports what an edit of this project can't have changed.
 *
 * @param {Parts} parts
 */
export async function startPython({ runtime, library, packages }) {
  standStill();
  const started = await start(runtime, library);
  const { module, python } = started;
  const run = (/** @type {string} */ source) => {
    const place = module.stringToNewUTF8(source);
    if (python.PyRun_SimpleString(place)) throw new Error('Python stopped: its words are above.');
    python.free(place);
  };
  copyIn(module.FS, packages, PACKAGES);
  run(readFileSync(join(HERE, 'prepare_snapshot.py'), 'utf8'));
  run('load_libraries()');
  return { ...started, run };
}

/**
 * @param {Awaited<ReturnType<typeof startPython>>} started
 * @param {Given} given
 */
export function createSnapshot(started, { calcs, bundle, requests }) {
  const { module, python, memory, tableAtStart, globals, atStart, run } = started;
  copyIn(module.FS, calcs, `${PACKAGES}/calcs`);
  module.FS.writeFile('/bundle.json', bundle);
  run('load_calculators()');
  const bridge = new Bridge(python, memory);
  for (const request of requests) bridge.answer(request);
  run('let_go()');
  const replies = requests.map((request) => bridge.answer(request));
  run('collect_garbage()');
  forgetArgumentCounter(python, memory, Number(globals.__memory_base?.value));
  clearGaps(python, memory);
  const kept = new Uint8Array(memory.buffer);
  const names = Object.keys(globals);
  const facts = {
    pages: memory.buffer.byteLength / PAGE,
    table: tableAtStart,
    globals: Object.fromEntries(names.map((name) => [name, Number(globals[name]?.value)])),
    runs: differingRuns(kept, atStart),
  };
  return { facts, memory: kept, replies };
}

/** The clock and the random numbers of every build. The seed of hashes is in PYTHON. */
function standStill() {
  Date.now = () => 0;
  performance.now = () => 0;
  Object.assign(crypto, { randomFillSync: (/** @type {Uint8Array} */ view) => view.fill(0) });
}

/**
 * Starts Python and no more: neither the loader's bridge to the page nor its event loop.
 *
 * @param {string} runtime
 * @param {string} library
 */
async function start(runtime, library) {
  /** @type {any} */
  const scope = globalThis;
  Object.assign(scope, { require: createRequire(import.meta.url), __dirname: runtime });
  const { loadPyodide } = createRequire(import.meta.url)(join(runtime, 'pyodide.js'));
  await import(pathToFileURL(join(runtime, 'pyodide.asm.js')).href);
  const seen = watchInstantiate();
  const makeModule = scope._createPyodideModule;
  const module = await new Promise((resolve, reject) => {
    scope._createPyodideModule = (/** @type {object} */ settings) => {
      makeModule(settings).then(resolve, reject);
      return new Promise(() => {}); // the loader goes no further
    };
    const lockFileContents = readFileSync(join(runtime, 'pyodide-lock.json'), 'utf8');
    const places = { indexURL: runtime, packageBaseUrl: runtime, stdLibURL: library };
    loadPyodide({ ...PYTHON, ...places, lockFileContents }).catch(reject);
  });
  return { module, ...seen.found() };
}

/** Notes the memory, the table and the functions of the runtime as it is instantiated. */
function watchInstantiate() {
  const instantiate = WebAssembly.instantiate;
  /** @type {any} */
  let found;
  const watched = async (/** @type {any} */ source, /** @type {any} */ imports) => {
    const made = /** @type {any} */ (await instantiate(source, imports));
    if (imports?.env?.memory) {
      const { memory, __indirect_function_table: table } = imports.env;
      const globals = globalsOf(imports);
      const atStart = new Uint8Array(memory.buffer.slice(0));
      const tableAtStart = table.length;
      found = { python: made.instance.exports, memory, tableAtStart, globals, atStart };
      WebAssembly.instantiate = instantiate;
    }
    return made;
  };
  WebAssembly.instantiate = /** @type {any} */ (watched);
  return { found: () => found };
}

/**
 * Where memory, table and stack begin and end. By name, because the runtime takes a name that it
 * is asked for as one that is needed.
 *
 * @param {Record<string, Record<string, any>>} imports
 * @returns {Record<string, WebAssembly.Global>}
 */
function globalsOf({ env = {}, 'GOT.mem': places = {} }) {
  const { __memory_base, __table_base, __stack_pointer } = env;
  const { __heap_base, __stack_low, __stack_high } = places;
  return { __memory_base, __table_base, __stack_pointer, __heap_base, __stack_low, __stack_high };
}

/**
 * @param {any} FS the runtime's file system
 * @param {string} from a folder on disk
 * @param {string} to a folder in the runtime
 */
function copyIn(FS, from, to) {
  FS.mkdirTree(to);
  const entries = readdirSync(from, { withFileTypes: true });
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const [source, target] = [join(from, entry.name), `${to}/${entry.name}`];
    if (entry.isDirectory()) copyIn(FS, source, target);
    else FS.writeFile(target, new Uint8Array(readFileSync(source)));
  }
}

/**
 * Where the browser can look at the types of functions, the runtime counts arguments with a
 * function made at its start. A snapshot can't hold that function, so it goes without.
 *
 * @param {any} python
 * @param {WebAssembly.Memory} memory
 * @param {number} base
 */
function forgetArgumentCounter(python, memory, base) {
  const words = new Int32Array(memory.buffer);
  const offset = words[(python._PyEM_EMSCRIPTEN_COUNT_ARGS_OFFSET.value + base) >> 2] ?? 0;
  words[(python._PyRuntime.value + base + offset) >> 2] = 0;
}

/**
 * Fills with zeros what Python has given back, by asking for it and giving it back again. Old
 * contents would make the snapshot larger and no two alike.
 *
 * @param {any} python
 * @param {WebAssembly.Memory} memory
 */
function clearGaps(python, memory) {
  const taken = [];
  for (let size = LARGEST_GAP; size >= SMALLEST_GAP; size = size > 64 ? size / 2 : size - 4) {
    for (;;) {
      const end = python.sbrk(0);
      const place = python.malloc(size);
      taken.push(place);
      new Uint8Array(memory.buffer, place, python.malloc_usable_size(place)).fill(0);
      if (python.sbrk(0) !== end) break; // no gap of this size was left
    }
  }
  for (const place of taken) python.free(place);
}
