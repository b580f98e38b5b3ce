/** One file of assets/runtime. `sha256` is base64, as fetch checks it. */
export type RuntimeFile = { name: string; size: number; sha256: string };

/** What `bundle.mjs` writes into the worker: the files that belong to this edition. */
export type RuntimeFacts = {
  edition: string;
  snapshot: string;
  unpacked: number;
  files: Record<string, RuntimeFile>;
};

declare global {
  const HB_RUNTIME: RuntimeFacts;

  /** Classic loader of the runtime: `pyodide.js` sets it. */
  function loadPyodide(options: object): Promise<any>;

  function importScripts(...urls: string[]): void;
}
