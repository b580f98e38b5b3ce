/** @typedef {import('./runtime-facts.d.ts').RuntimeFacts} RuntimeFacts */

/** A file of the runtime did not come, or is not what this edition was built with. */
export class FileTrouble extends Error {
  name = 'FileTrouble';
}

/** Gets the runtime's files from beside the worker. A folder edition has another of these. */
export class RuntimeFiles {
  // The ordinary start looks on at every fetch by taking the place of `fetch`.
  #fetch = globalThis.fetch.bind(globalThis);

  /** @param {RuntimeFacts} facts @param {string} base address of assets/runtime/ */
  constructor(facts, base) {
    this.facts = facts;
    this.base = base;
  }

  /** @param {string} name @returns {string} */
  url(name) {
    return new URL(name, this.base).href;
  }

  /**
   * The part of the hash keeps a file of an older edition in the browser's cache from being taken.
   *
   * @param {string} name @param {RequestInit} [options] @returns {Promise<Response>}
   */
  open(name, options) {
    const mark = this.#file(name).sha256.slice(0, 8);
    return this.get(`${this.url(name)}?v=${encodeURIComponent(mark)}`, options);
  }

  /** @param {string} url @param {RequestInit} [options] @returns {Promise<Response>} */
  async get(url, options) {
    const name = new URL(url).pathname.split('/').pop() ?? url;
    const response = await this.#fetch(url, options).catch((error) => {
      throw new FileTrouble(`${name} could not be fetched (${error.message}).`);
    });
    if (!response.ok) throw new FileTrouble(`${name} could not be fetched (${response.status}).`);
    if (response.headers.get('content-type')?.startsWith('text/html')) {
      throw new FileTrouble(`The server sent a page in place of ${name}.`);
    }
    return response;
  }

  /**
   * Whether a file is, byte for byte, what this edition was built with. One that isn't is fetched
   * anew, past the browser's cache.
   *
   * @param {string} name
   * @returns {Promise<'right' | 'refetched' | 'damaged' | 'unknown'>}
   */
  async check(name) {
    const integrity = `sha256-${this.#file(name).sha256}`;
    const comes = async (/** @type {RequestInit} */ options) =>
      this.open(name, options).then((response) => response.arrayBuffer()).then(Boolean, () => false);
    if (await comes({ integrity, cache: 'force-cache' })) return 'right';
    if (await comes({ integrity, cache: 'reload' })) return 'refetched';
    return (await comes({ cache: 'force-cache' })) ? 'damaged' : 'unknown';
  }

  /** @param {string} name */
  #file(name) {
    const file = this.facts.files[name];
    if (!file) throw new FileTrouble(`This edition has no ${name}.`);
    return file;
  }
}
