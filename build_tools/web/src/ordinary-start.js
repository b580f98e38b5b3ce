/** @typedef {import('./runtime-facts.d.ts').Files} RuntimeFiles */

const BUNDLE = '/lib/python3.13/site-packages/calcs/bundle.json';

/**
 * Starts the runtime as its makers mean it to start: interpreter, standard library, wheels. The
 * loader checks each wheel against the SHA-256 in the lock.
 *
 * @param {RuntimeFiles} files
 * @returns {Promise<{answer: (request: string) => string}>}
 */
export async function ordinaryStart(files) {
  importScripts(files.url('pyodide.js'));
  const python = await settling(files, () =>
    loadPyodide({ indexURL: files.base, packages: ['calcs'] }),
  );
  return openBridge(python);
}

/** @param {any} python a started runtime that has the wheels */
export function openBridge(python) {
  const bridge = python.pyimport('calcs.bridge');
  bridge.load(python.FS.readFile(BUNDLE, { encoding: 'utf8' }));
  return { answer: (/** @type {string} */ request) => String(bridge.answer(request)) };
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
      self.fetch = (what, options) => watch(files.get(String(what), options));
      WebAssembly.instantiateStreaming = (source, imports) =>
        watch(instantiateStreaming.call(WebAssembly, source, imports));
      load().then(resolve, reject);
    });
  } finally {
    self.fetch = realFetch;
    WebAssembly.instantiateStreaming = instantiateStreaming;
  }
}
