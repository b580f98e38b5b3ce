/**
 * The form of a snapshot: MAGIC, length of the facts, facts as JSON, then the bytes of each run.
 *
 * The runs are the stretches of memory that differ from what the runtime itself lays down when
 * it starts. The rest is either zero or already there, so a snapshot leaves it out.
 *
 * @typedef {object} Facts
 * @property {number} pages WebAssembly pages of memory
 * @property {number} table entries of the function table
 * @property {Record<string, number>} globals where memory, table and stack begin and end
 * @property {number[]} runs place and length of each run, by turns
 */

const MAGIC = 0x31534248; // "HBS1"
const HEAD = 8;
const GZIP = [0x1f, 0x8b];

/** Runs are whole blocks: shorter ones would make more runs than they save bytes. */
const BLOCK = 256;

/**
 * @param {Uint8Array} memory as it is now
 * @param {Uint8Array} atStart as the runtime laid it down
 * @returns {number[]} place and length of each stretch that differs, by turns
 */
export function differingRuns(memory, atStart) {
  /** @type {number[]} */
  const runs = [];
  for (let place = 0; place < memory.length; place += BLOCK) {
    let same = true;
    for (let at = place; same && at < place + BLOCK; at += 1)
      same = memory[at] === (atStart[at] ?? 0);
    if (same) continue;
    const [from = -1, length = 0] = runs.slice(-2);
    if (from + length === place) runs[runs.length - 1] = length + BLOCK;
    else runs.push(place, BLOCK);
  }
  return runs;
}

/**
 * @param {Facts} facts
 * @param {Uint8Array} memory
 * @returns {Uint8Array}
 */
export function packSnapshot(facts, memory) {
  const words = new TextEncoder().encode(JSON.stringify(facts));
  const total = facts.runs.reduce((sum, value, index) => sum + (index % 2 ? value : 0), 0);
  const file = new Uint8Array(HEAD + words.length + total);
  new Uint32Array(file.buffer, 0, 2).set([MAGIC, words.length]);
  file.set(words, HEAD);
  let at = HEAD + words.length;
  for (const [place, length] of pairs(facts.runs)) {
    file.set(memory.subarray(place, place + length), at);
    at += length;
  }
  return file;
}

/** Bytes that came in parts, taken from the first to the last. */
class Parts {
  /** @type {Uint8Array[]} */ #left;

  /** @param {Uint8Array[]} parts */
  constructor(parts) {
    this.#left = [...parts].reverse();
  }

  get isAtEnd() {
    return this.#left.every(({ length }) => length === 0);
  }

  /**
   * @param {number} length
   * @param {Uint8Array} [target] where they go
   * @param {number} [place] where in it
   */
  take(length, target = new Uint8Array(length), place = 0) {
    for (let taken = 0; taken < length; ) {
      const part = this.#left.pop();
      if (!part) throw new Error('The snapshot is cut short.');
      const some = part.subarray(0, length - taken);
      target.set(some, place + taken);
      taken += some.length;
      if (some.length < part.length) this.#left.push(part.subarray(some.length));
    }
    return target;
  }
}

/**
 * @param {Uint8Array[]} file in as many parts as it came in
 * @returns {{facts: Facts, body: Parts}}
 */
export function readSnapshot(file) {
  const body = new Parts(file);
  const view = new DataView(body.take(HEAD).buffer);
  if (view.getUint32(0, true) !== MAGIC) {
    throw new Error('The snapshot does not begin as a snapshot does.');
  }
  const facts = JSON.parse(new TextDecoder().decode(body.take(view.getUint32(4, true))));
  return { facts, body };
}

/**
 * @param {number[]} runs
 * @param {Parts} body
 * @param {Uint8Array} memory
 */
export function layRuns(runs, body, memory) {
  for (const [place, length] of pairs(runs)) body.take(length, memory, place);
  if (!body.isAtEnd) throw new Error('The snapshot is not as long as it says.');
}

/** @param {number[]} runs @returns {Generator<[number, number]>} */
function* pairs(runs) {
  for (let index = 0; index < runs.length; index += 2) {
    yield [runs[index] ?? 0, runs[index + 1] ?? 0];
  }
}

/** @param {Uint8Array} bytes @returns {boolean} */
export const isGzip = (bytes) => GZIP.every((value, index) => bytes[index] === value);
