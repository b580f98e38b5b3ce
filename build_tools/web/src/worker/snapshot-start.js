import { restoreSnapshot } from './restore-snapshot.js';
import { FileError } from './runtime-files.js';
import { isGzip } from './snapshot-file.js';

/** @typedef {import('./runtime-facts.d.ts').Files} RuntimeFiles */
/** @typedef {Uint8Array<ArrayBuffer>[]} Parts */

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
  const [wasm, packed] = await Promise.all([files.openChecked(WASM), files.openToProve(SNAPSHOT)]);
  const taken = takeIn(packed.response);
  const made = Promise.all([
    WebAssembly.compileStreaming(wasm.response),
    taken.then(({ unpacked }) => unpacked),
  ]);
  made.catch(() => {}); // a damaged file is told as such, not as what comes of it
  const proved = taken.then(({ came }) => came).then(packed.prove);
  await Promise.all([wasm.right, proved]);
  const [module, snapshot] = await made;
  return restoreSnapshot(module, snapshot);
}

/**
 * Reads a snapshot once, for both: it is unpacked as it comes in, and held for its hash. A server
 * may send the file as it lies, or say that it is packed so that the browser unpacks it.
 *
 * @param {Response} response
 * @returns {Promise<{came: Promise<Parts>, unpacked: Promise<Parts>}>}
 */
async function takeIn(response) {
  if (!response.body) throw new FileError('The snapshot is empty.');
  const incoming = /** @type {ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>} */ (
    response.body.getReader()
  );
  const { value: first } = await incoming.read();
  if (!first || !isGzip(first)) {
    const all = collect(incoming, first);
    return { came: all, unpacked: all };
  }
  const { readable, writable } = new DecompressionStream('gzip');
  const came = feed(incoming, writable.getWriter(), first);
  return { came, unpacked: collect(readable.getReader()) };
}

/**
 * A file that can't be unpacked is read to its end all the same: its hash says what it is.
 *
 * @param {ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>} incoming
 * @param {WritableStreamDefaultWriter<BufferSource>} packed
 * @param {Uint8Array<ArrayBuffer>} first
 * @returns {Promise<Parts>}
 */
async function feed(incoming, packed, first) {
  const came = [];
  const unpack = async (/** @type {Uint8Array<ArrayBuffer>} */ part) => packed.write(part);
  let unpacks = true;
  for (let part = /** @type {typeof first | undefined} */ (first); part; ) {
    came.push(part);
    if (unpacks) unpacks = await unpack(part).then(isDone, isNotDone);
    part = (await incoming.read()).value;
  }
  if (unpacks) packed.close().catch(() => {}); // whoever reads what comes out is told
  return came;
}

const isDone = () => true;
const isNotDone = () => false;

/**
 * @param {ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>} incoming
 * @param {Uint8Array<ArrayBuffer>} [first]
 * @returns {Promise<Parts>}
 */
async function collect(incoming, first) {
  const parts = first ? [first] : [];
  for (;;) {
    const { value } = await incoming.read();
    if (!value) return parts;
    parts.push(value);
  }
}
