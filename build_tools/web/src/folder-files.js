import { FileTrouble } from './runtime-files.js';

/** @typedef {import('./runtime-facts.d.ts').RuntimeFacts} RuntimeFacts */
/** @typedef {Record<string, string>} Packed each file, packed by gzip and written as base64 */
/** @typedef {{runtime: Packed} | {missing: string}} Handed what the page hands to its worker */

const TYPE = { 'content-type': 'application/wasm' };

/**
 * The runtime's files in a folder edition. A page that is opened from disk can't fetch, so it
 * loads them as scripts and hands them to its worker.
 */
export class FolderFiles {
  /** @type {Promise<Packed>} */ #packed;

  /** @param {RuntimeFacts} facts @param {Promise<Handed>} handed */
  constructor(facts, handed) {
    this.facts = facts;
    this.base = '';
    this.#packed = handed.then((given) => {
      if ('runtime' in given) return given.runtime;
      throw new FileTrouble(`${given.missing} is missing from the folder. Unpack it again, whole.`);
    });
    this.#packed.catch(() => {}); // told to each file that is asked for
  }

  /** @param {string} name @returns {string} */
  url(name) {
    throw new FileTrouble(`The folder edition has no ${name}.`);
  }

  /** @param {string} name @returns {Promise<Response>} the file, unpacked */
  async open(name) {
    const packed = (await this.#packed)[name];
    if (packed === undefined) throw new FileTrouble(`The folder edition has no ${name}.`);
    // Not through a Blob: WebKit does not let a worker of a page from disk read one.
    const unpacked = new Response(bytesOf(packed)).body?.pipeThrough(new DecompressionStream('gzip'));
    return new Response(unpacked, { headers: TYPE });
  }

  /** @param {string} name @returns {Promise<Response>} */
  get(name) {
    return this.open(name);
  }

  /**
   * @param {string} name
   * @returns {Promise<'right' | 'damaged' | 'unknown'>} unknown where a browser gives no hashes
   */
  async check(name) {
    if (!globalThis.crypto?.subtle) return 'unknown';
    const read = this.open(name).then((response) => response.arrayBuffer());
    const unpacked = await read.catch(() => null); // a damaged one may not even unpack
    if (!unpacked) return 'unknown';
    const found = new Uint8Array(await crypto.subtle.digest('SHA-256', unpacked));
    const wanted = bytesOf(this.facts.files[name]?.sha256 ?? '');
    return found.every((byte, index) => byte === wanted[index]) ? 'right' : 'damaged';
  }
}

/** @param {string} base64 @returns {Uint8Array<ArrayBuffer>} */
function bytesOf(base64) {
  /** @type {any} */
  const quick = Uint8Array; // a newer browser does this by itself
  if (quick.fromBase64) return quick.fromBase64(base64);
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let at = 0; at < text.length; at += 1) bytes[at] = text.charCodeAt(at);
  return bytes;
}

/** @returns {Promise<Handed>} what the page hands over, once it has it */
export function handedOver() {
  return new Promise((resolve) => {
    addEventListener('message', function hear({ data }) {
      if (!('runtime' in data) && !('missing' in data)) return;
      removeEventListener('message', hear);
      resolve(data);
    });
  });
}
