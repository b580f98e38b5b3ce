/**
 * The page's half of a folder edition. A browser lets a page that is opened from disk neither
 * fetch a file nor start a worker by its address. So the worker is made from text, and the
 * runtime comes in scripts. `build_tools/site/package.py` writes both.
 *
 * @typedef {object} Folder
 * @property {string} worker the worker's script
 * @property {string} searchWorker that of the search
 * @property {string[]} files of the runtime; each lies in assets/runtime as a script
 */

/** @typedef {{hbFolder?: Folder, hbRuntime?: Record<string, string>}} Given */

const given = /** @type {Given} */ (/** @type {unknown} */ (globalThis));

/** Where this script lies: assets/runtime lies beside its folder. */
const scriptUrl = /** @type {HTMLScriptElement | null} */ (globalThis.document?.currentScript)?.src;

/** @returns {{makeWorker?: (url: string) => Worker}} how a client makes its worker */
export function clientOptions() {
  const folder = given.hbFolder;
  return folder ? { makeWorker: () => makeWorker(folder) } : {};
}

/** @returns {string | null} the address of the search's worker, where it is not that of its file */
export function searchWorker() {
  const script = given.hbFolder?.searchWorker;
  if (script === undefined) return null;
  return URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
}

/** @param {Folder} folder @returns {Worker} */
function makeWorker(folder) {
  const script = new Blob([folder.worker], { type: 'text/javascript' });
  const url = URL.createObjectURL(script);
  const worker = new Worker(url);
  Promise.all(folder.files.map(load)).then(
    () => {
      worker.postMessage({ runtime: given.hbRuntime });
      delete given.hbRuntime; // 10 MB that the page has no more use for
      URL.revokeObjectURL(url);
    },
    (error) => worker.postMessage({ missing: error.message }),
  );
  return worker;
}

/** @param {string} name @returns {Promise<void>} */
function load(name) {
  return new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = new URL(`../runtime/${name}.js`, scriptUrl || location.href).href;
    script.addEventListener('load', () => resolve(script.remove()));
    script.addEventListener('error', () => reject(new Error(`${name}.js`)));
    document.head.append(script);
  });
}
