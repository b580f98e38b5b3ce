import { canHash, FileDamaged, isRight, joined } from './file-hashes.js';
import { FileError } from './runtime-files.js';

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
      throw new FileError(`${given.missing} is missing from the folder. Unpack it again, whole.`);
    });
    this.#packed.catch(() => {}); // told to each file that is asked for
  }

  /** @param {string} name @returns {string} */
  markedUrl(name) {
    throw new FileError(`The folder edition has no ${name}.`);
  }

  /** @param {string} name @returns {Promise<Response>} the file, unpacked */
  async open(name) {
    const packed = (await this.#packed)[name];
    if (packed === undefined) throw new FileError(`The folder edition has no ${name}.`);
    const bytes = bytesOf(packed, name);
    // Not through a Blob: WebKit does not let a worker of a page from disk read one.
    const unpacked = new Response(bytes).body?.pipeThrough(new DecompressionStream('gzip'));
    return new Response(unpacked, { headers: TYPE });
  }

  /**
   * Where a browser gives no hashes to a page from disk, the sum that gzip keeps has to do.
   *
   * @param {string} name @returns {Promise<import('./runtime-facts.d.ts').CheckedFile>}
   */
  async openChecked(name) {
    const response = await this.open(name);
    const whole = canHash() ? response.clone().arrayBuffer() : null;
    const right = whole ? whole.then((bytes) => this.#prove(name, bytes)) : Promise.resolve();
    right.catch(() => {}); // told to whoever waits for it
    return { response, right };
  }

  /** @param {string} name @returns {Promise<import('./runtime-facts.d.ts').FileToProve>} */
  async openToProve(name) {
    const prove = async (/** @type {Uint8Array[]} */ parts) => {
      if (canHash()) await this.#prove(name, joined(parts));
    };
    return { response: await this.open(name), prove };
  }

  /** @param {string} name @param {BufferSource} came */
  async #prove(name, came) {
    const known = this.facts.files[name];
    if (!known || !(await isRight(known, came))) throw new FileDamaged(name);
  }

  /** @param {string} name @returns {Promise<Response>} */
  getChecked(name) {
    return this.open(name);
  }

  /**
   * @param {string} name
   * @returns {Promise<'right' | 'damaged' | 'unknown'>}
   */
  async check(name) {
    const checked = await this.openChecked(name).catch(() => null);
    if (!checked || !canHash()) return 'unknown';
    return checked.right.then(
      () => 'right',
      () => 'damaged',
    );
  }
}

/** @param {string} base64 @param {string} name @returns {Uint8Array<ArrayBuffer>} */
function bytesOf(base64, name) {
  try {
    return decoded(base64);
  } catch {
    throw new FileError(`${name} is damaged. Unpack the zip file again, whole.`);
  }
}

/** @param {string} base64 @returns {Uint8Array<ArrayBuffer>} */
function decoded(base64) {
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
