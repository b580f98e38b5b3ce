/** Whether a file is, byte for byte, what this edition was built with. */

/** @typedef {import('./runtime-facts.d.ts').RuntimeFile} RuntimeFile */

/** A file of the runtime is not what this edition was built with. Nothing of it has run. */
export class FileDamaged extends Error {
  name = 'FileDamaged';

  /** @param {string} file its name */
  constructor(file) {
    super(`${file} is not what this edition was built with.`);
    this.file = file;
  }
}

/** Browsers let a script make hashes over https, on this machine and for some folders. */
export const canHash = () => Boolean(globalThis.crypto?.subtle);

/**
 * The hashes for `fetch`, which checks them in every browser, over plain http too. A file that is
 * packed has one packed and one unpacked: a server may have the browser unpack it.
 *
 * @param {RuntimeFile} file
 * @returns {string}
 */
export const integrityOf = ({ sha256 }) => sha256.map((hash) => `sha256-${hash}`).join(' ');

/**
 * @param {RuntimeFile} file
 * @param {BufferSource} bytes the whole of it
 * @returns {Promise<boolean>}
 */
export async function isRight(file, bytes) {
  const found = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return file.sha256.includes(btoa(String.fromCharCode(...found)));
}

/**
 * @param {Uint8Array[]} parts
 * @returns {Uint8Array<ArrayBuffer>} all of them, one behind the other
 */
export function joined(parts) {
  const bytes = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
