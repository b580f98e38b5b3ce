/** @typedef {import('./runtime-facts.d.ts').Files} RuntimeFiles */

const BUNDLE = '/lib/python3.13/site-packages/calcs/bundle.json';

/** The loader would fetch the second script by itself; one that is there already it takes. */
const SCRIPTS = ['pyodide.js', 'pyodide.asm.js'];

/**
 * Starts the runtime as its makers mean it to start: interpreter, standard library, wheels. Each
 * file is checked against its hash before it is used: a script here, which leaves it in the
 * browser's cache, the others as they are fetched.
 *
 * @param {RuntimeFiles} files
 * @returns {Promise<import('./python-start.js').Bridge>}
 */
export async function ordinaryStart(files) {
  await Promise.all(SCRIPTS.map((name) => kept(files, name)));
  importScripts(...SCRIPTS.map((name) => files.markedUrl(name)));
  const python = await settling(files, () =>
    loadPyodide({ indexURL: files.base, packages: ['calcs'] }),
  );
  return openBridge(python);
}

/** @param {RuntimeFiles} files @param {string} name */
async function kept(files, name) {
  const { response, right } = await files.openChecked(name);
  await response.arrayBuffer();
  await right;
}

/** @param {any} python a started runtime that has the wheels */
export function openBridge(python) {
  const bridge = python.pyimport('calcs.bridge');
  bridge.load(python.FS.readFile(BUNDLE, { encoding: 'utf8' }));
  return {
    answer: (/** @type {string} */ request) => String(bridge.answer(request)),
    teach: (/** @type {string} */ program) => void python.runPython(program),
  };
}

/**
 * The loader waits for ever when one of its files is missing or wrong, and says so only in the
 * console. This looks on as it fetches and compiles, and ends the wait.
 *
 * @template T
 * @param {RuntimeFiles} files
 * @param {() => Promise<T>} load
 * @returns {Promise<T>}
 */
async function settling(files, load) {
  const { fetch: realFetch } = self;
  const { instantiateStreaming } = WebAssembly;
  try {
    return await new Promise((resolve, reject) => {
      const watch = (/** @type {Promise<any>} */ promise) => {
        promise.catch(reject);
        return promise;
      };
      self.fetch = (what, options) => watch(files.getChecked(String(what), options));
      WebAssembly.instantiateStreaming = (source, imports) =>
        watch(instantiateStreaming.call(WebAssembly, source, imports));
      load().then(resolve, reject);
    });
  } finally {
    self.fetch = realFetch;
    WebAssembly.instantiateStreaming = instantiateStreaming;
  }
}
