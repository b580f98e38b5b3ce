import { restoreSnapshot } from './restore-snapshot.js';
import { FileError } from './runtime-files.js';
import { isGzip } from './snapshot-file.js';

/** @typedef {import('./runtime-facts.d.ts').Files} RuntimeFiles */

export const WASM = 'pyodide.asm.wasm';
export const SNAPSHOT = 'snapshot.bin.gz';

/**
 * Starts from the snapshot. The runtime is compiled as it comes in, from code that the browser
 * kept where it can; the snapshot is unpacked meanwhile. Neither runs before its hash is right.
 *
 * @param {RuntimeFiles} files
 * @returns {Promise<import('./restore-snapshot.js').Bridge>}
 */
export async function snapshotStart(files) {
  const [wasm, packed] = await Promise.all([files.openChecked(WASM), files.openChecked(SNAPSHOT)]);
  const made = Promise.all([
    WebAssembly.compileStreaming(wasm.response),
    unpack(packed.response, files.facts.unpacked),
  ]);
  made.catch(() => {}); // a damaged file is told as such, not as what comes of it
  await Promise.all([wasm.right, packed.right]);
  const [module, snapshot] = await made;
  return restoreSnapshot(module, snapshot);
}

/**
 * A server may send the file as it lies, or say that it is packed so that the browser unpacks it.
 *
 * @param {Response} response
 * @param {number} size of the unpacked file
 * @returns {Promise<Uint8Array>}
 */
async function unpack(response, size) {
  if (!response.body) throw new FileError('The snapshot is empty.');
  const incoming = response.body.getReader();
  const first = await incoming.read();
  const file = new Uint8Array(size);
  if (!first.value || !isGzip(first.value)) {
    await collect(incoming, file, first.value);
    return file;
  }
  const { readable, writable } = new DecompressionStream('gzip');
  const fed = feed(incoming, writable.getWriter(), /** @type {BufferSource} */ (first.value));
  await Promise.all([collect(readable.getReader(), file), fed]);
  return file;
}

/**
 * @param {ReadableStreamDefaultReader<Uint8Array>} incoming
 * @param {WritableStreamDefaultWriter<BufferSource>} packed
 * @param {BufferSource} first
 */
async function feed(incoming, packed, first) {
  void packed.write(first);
  for (;;) {
    const { done, value } = await incoming.read();
    if (done) return packed.close();
    await packed.write(/** @type {BufferSource} */ (value));
  }
}

/**
 * @param {ReadableStreamDefaultReader<Uint8Array>} incoming
 * @param {Uint8Array} file filled to its end
 * @param {Uint8Array} [first]
 */
async function collect(incoming, file, first) {
  let at = 0;
  const add = (/** @type {Uint8Array} */ part) => {
    if (at + part.length > file.length) throw new FileError('The snapshot is too long.');
    file.set(part, at);
    at += part.length;
  };
  if (first) add(first);
  for (;;) {
    const { done, value } = await incoming.read();
    if (done) break;
    add(value);
  }
  if (at !== file.length) throw new FileError('The snapshot is cut short.');
}
