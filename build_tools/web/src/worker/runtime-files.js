import { canHash, FileDamaged, integrityOf, isRight, joined } from './file-hashes.js';

/** @typedef {import('./runtime-facts.d.ts').CheckedFile} CheckedFile */
/** @typedef {import('./runtime-facts.d.ts').RuntimeFacts} RuntimeFacts */

/** A file of the runtime did not come, or is not what this edition was built with. */
export class FileError extends Error {
  name = 'FileError';
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
   * @param {string} name @returns {string}
   */
  markedUrl(name) {
    const version = this.#file(name).sha256[0]?.slice(0, 8) ?? '';
    return `${this.url(name)}?v=${encodeURIComponent(version)}`;
  }

  /** @param {string} name @param {RequestInit} [options] @returns {Promise<Response>} */
  open(name, options) {
    return this.get(this.markedUrl(name), options);
  }

  /**
   * Opens a file that may be compiled and unpacked at once, but of which nothing may run before
   * `right` says that it is what this edition was built with.
   *
   * `fetch` could check it by itself, but then gives nothing before the end, and a browser no
   * longer finds the code that it has compiled before.
   *
   * @param {string} name @returns {Promise<CheckedFile>}
   */
  async openChecked(name) {
    if (!canHash()) return { response: await this.#openProved(name), right: Promise.resolve() };
    const response = await this.open(name);
    const right = response
      .clone()
      .arrayBuffer()
      .then((bytes) => this.#prove(name, bytes));
    right.catch(() => {}); // told to whoever waits for it
    return { response, right };
  }

  /**
   * Opens a file that is read once, by whoever then has it proved before anything of it runs.
   *
   * @param {string} name @returns {Promise<import('./runtime-facts.d.ts').FileToProve>}
   */
  async openToProve(name) {
    if (!canHash()) return { response: await this.#openProved(name), prove: async () => {} };
    const response = await this.open(name);
    return { response, prove: (parts) => this.#prove(name, joined(parts)) };
  }

  /** @param {string} name @param {BufferSource} came */
  async #prove(name, came) {
    if (!(await isRight(this.#file(name), came))) throw new FileDamaged(name);
  }

  /**
   * Over plain http a script can't make hashes, so there `fetch` has to. To fetch once more for
   * the hash alone would not do: what comes then need not be what came first.
   *
   * @param {string} name @returns {Promise<Response>}
   */
  async #openProved(name) {
    const integrity = integrityOf(this.#file(name));
    try {
      return await this.open(name, { integrity });
    } catch {
      await this.open(name); // says so if it can't be fetched at all
    }
    return this.open(name, { integrity, cache: 'reload' }).catch(() => {
      throw new FileDamaged(name);
    });
  }

  /**
   * Whether a file comes as this edition was built with it.
   *
   * @param {string} name @param {RequestCache} cache
   */
  #comes(name, cache) {
    const whole = this.open(name, { integrity: integrityOf(this.#file(name)), cache });
    return whole.then((response) => response.arrayBuffer()).then(Boolean, () => false);
  }

  /**
   * What the runtime's own loader asks for. `fetch` checks it and gives nothing of a wrong file.
   *
   * @param {string} url @param {RequestInit} [options] @returns {Promise<Response>}
   */
  getChecked(url, options) {
    const name = nameIn(url);
    const file = this.facts.files[name];
    return file
      ? this.open(name, { ...options, integrity: integrityOf(file) })
      : this.get(url, options);
  }

  /** @param {string} url @param {RequestInit} [options] @returns {Promise<Response>} */
  async get(url, options) {
    const name = nameIn(url);
    const response = await this.#fetch(url, options).catch((error) => {
      throw new FileError(`${name} could not be fetched (${error.message}).`);
    });
    if (!response.ok) throw new FileError(`${name} could not be fetched (${response.status}).`);
    if (await isPage(response)) {
      throw new FileError(`The server sent a page in place of ${name}.`);
    }
    return name.endsWith('.wasm') ? asWasm(response) : response;
  }

  /**
   * Whether a file is, byte for byte, what this edition was built with. One that isn't is fetched
   * anew, past the browser's cache.
   *
   * @param {string} name
   * @returns {Promise<'right' | 'refetched' | 'damaged' | 'unknown'>}
   */
  async check(name) {
    if (await this.#comes(name, 'force-cache')) return 'right';
    if (await this.#comes(name, 'reload')) return 'refetched';
    const any = this.open(name, { cache: 'force-cache' });
    return any
      .then((response) => response.arrayBuffer())
      .then(
        () => 'damaged',
        () => 'unknown',
      );
  }

  /** @param {string} name */
  #file(name) {
    const file = this.facts.files[name];
    if (!file) throw new FileError(`This edition has no ${name}.`);
    return file;
  }
}

const WASM_TYPE = 'application/wasm';

/**
 * The runtime compiles nothing that comes as another type, and a server that does not know the
 * ending sends another. The bytes are held against their hash, so the type says nothing more. One
 * that is right stays as it came: a browser finds compiled code by the response it has fetched.
 *
 * @param {Response} response @returns {Response}
 */
function asWasm(response) {
  if (response.headers.get('content-type') === WASM_TYPE) return response;
  return new Response(response.body, { headers: { 'content-type': WASM_TYPE } });
}

/**
 * A network that wants a login answers with a page of its own. Of a file that is only labelled as
 * a page, the first sign tells.
 *
 * @param {Response} response @returns {Promise<boolean>}
 */
async function isPage(response) {
  if (!response.headers.get('content-type')?.startsWith('text/html')) return false;
  const bytes = new Uint8Array(await response.clone().arrayBuffer());
  const start = new TextDecoder().decode(bytes.subarray(0, 256));
  return start.trimStart().startsWith('<');
}

/** @param {string} url */
const nameIn = (url) => new URL(url).pathname.split('/').pop() ?? url;
