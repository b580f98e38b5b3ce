/**
 * One file of assets/runtime. `sha256` is base64, as fetch checks it: of the file, and where it is
 * packed, of what it holds.
 */
export type RuntimeFile = { name: string; size: number; sha256: string[] };

/** A file, and the promise that it is what this edition was built with. */
export type CheckedFile = { response: Response; right: Promise<void> };

/** A file, and what says of all its parts that they are what this edition was built with. */
export type FileToProve = {
  response: Response;
  prove: (parts: Uint8Array[]) => Promise<void>;
};

/** What the build writes before the worker's script: the files that belong to this edition. */
export type RuntimeFacts = {
  edition: string;
  files: Record<string, RuntimeFile>;
};

/** Where a worker gets the runtime's files from: a server, or the page that opened a folder. */
export interface Files {
  facts: RuntimeFacts;
  base: string;
  markedUrl(name: string): string;
  open(name: string, options?: RequestInit): Promise<Response>;
  openChecked(name: string): Promise<CheckedFile>;
  openToProve(name: string): Promise<FileToProve>;
  getChecked(url: string, options?: RequestInit): Promise<Response>;
  check(name: string): Promise<'right' | 'refetched' | 'damaged' | 'unknown'>;
}

declare global {
  const HB_RUNTIME: RuntimeFacts;

  /** Classic loader of the runtime: `pyodide.js` sets it. */
  // biome-ignore lint/suspicious/noExplicitAny: what it loads comes without types.
  function loadPyodide(options: object): Promise<any>;

  function importScripts(...urls: string[]): void;
}
