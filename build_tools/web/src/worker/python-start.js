import { FileDamaged } from './file-hashes.js';
import { ordinaryStart } from './ordinary-start.js';
import { SNAPSHOT, snapshotStart, WASM } from './snapshot-start.js';

/** @typedef {import('../protocol/messages.js').Stage} Stage */
/** @typedef {import('./runtime-facts.d.ts').Files} RuntimeFiles */
/** @typedef {{answer: (request: string) => string, teach: (program: string) => void}} Bridge */
/** @typedef {(files: RuntimeFiles) => Promise<Bridge>} Start */

/** What the loader and the frozen Python start with. Tests put others in their place. */
const STARTS = { snapshot: snapshotStart, ordinary: ordinaryStart };

/**
 * The calculators in this worker. They start from the snapshot; where that can't be, or where a
 * frozen Python is asked for more than it has, the ordinary start takes over with the same
 * request.
 */
export class Python {
  #begin;
  #files;
  #tell;
  #starts;
  /** @type {'snapshot' | 'ordinary'} */ #way;
  #mayFallBack;
  /** @type {Promise<Bridge>} */ #bridge;
  /** @type {Bridge | null} what the snapshot gave */ #frozen = null;
  /** @type {string} what a page has brought, for whichever start goes on with it */ #taught = '';

  /**
   * @param {RuntimeFiles} files
   * @param {string | null} way `ordinary`, `snapshot` (and nothing else), or null for the best
   * @param {(stage: Stage) => void} tell
   * @param {object} [options]
   * @param {{snapshot: Start, ordinary: Start}} [options.starts]
   * @param {Promise<void>} [options.begin] what the start waits for
   */
  constructor(files, way, tell, { starts = STARTS, begin = Promise.resolve() } = {}) {
    this.#begin = begin;
    this.#files = files;
    this.#tell = tell;
    this.#starts = starts;
    this.#way = way === 'ordinary' ? 'ordinary' : 'snapshot';
    this.#mayFallBack = way === null;
    this.#bridge = this.#start();
    this.#bridge.catch(() => {}); // told to each request that waits for it
  }

  /** Settles as the start does. */
  get started() {
    return this.#bridge.then(() => {});
  }

  /**
   * @param {object} request
   * @param {((first: object) => void) | null} tellFirst
   *   hears the first part of an answer before the whole of it is there
   * @returns {Promise<object>} the reply of `calcs.bridge`
   */
  async answer(request, tellFirst = null) {
    const bridge = await this.#bridge;
    const { action, program } = /** @type {{action?: string, program?: string}} */ (request);
    if (action === 'teach') {
      this.#taught = program ?? '';
      bridge.teach(this.#taught);
      return {};
    }
    // The page brings it, and brings it anew where a worker was lost.
    if (action === 'practice' && !this.#taught) return { untaught: true };
    try {
      return answerOf(bridge, request, tellFirst);
    } catch (error) {
      if (bridge !== this.#frozen || !this.#mayFallBack) throw error;
      // Another request may have met the same trouble and called for the ordinary start already.
      if (this.#way === 'snapshot') this.#bridge = this.#startOrdinary(error);
      return answerOf(await this.#bridge, request, tellFirst);
    }
  }

  /** Names of the files that the chosen start needs. */
  get needs() {
    const all = Object.keys(this.#files.facts.files);
    return this.#way === 'snapshot' ? [WASM, SNAPSHOT] : all.filter((name) => name !== SNAPSHOT);
  }

  /** Whether the snapshot had to give way. */
  get gaveWay() {
    return this.#mayFallBack && this.#way === 'ordinary';
  }

  /** @returns {Promise<Bridge>} */
  async #start() {
    await this.#begin;
    if (this.#way === 'ordinary') return this.#startOrdinary();
    this.#tell({ stage: 'fetching', way: 'snapshot' });
    try {
      this.#frozen = await this.#starts.snapshot(this.#files);
      this.#tell({ stage: 'ready', way: 'snapshot' });
      return this.#frozen;
    } catch (error) {
      // The other start runs on the same runtime.
      const isHopeless = error instanceof FileDamaged && error.file === WASM;
      if (isHopeless || !this.#mayFallBack) throw error;
      return this.#startOrdinary(error);
    }
  }

  /** @param {unknown} [because] what kept the snapshot from being used @returns {Promise<Bridge>} */
  async #startOrdinary(because) {
    this.#way = 'ordinary';
    const why = because === undefined ? {} : { why: String(because) };
    this.#tell({ stage: 'starting', way: 'ordinary', ...why });
    const bridge = await this.#starts.ordinary(this.#files);
    if (this.#taught) bridge.teach(this.#taught);
    this.#tell({ stage: 'ready', way: 'ordinary', ...why });
    return bridge;
  }
}

/**
 * Asks for both parts of an answer in one go: the rest is that of the answer that was begun last.
 * What has one part is told as its first as well: the quick way to the page is that of first parts.
 *
 * @param {Bridge} bridge
 * @param {object} request
 * @param {((first: object) => void) | null} tellFirst
 * @returns {object}
 */
function answerOf(bridge, request, tellFirst) {
  if (!tellFirst) return ask(bridge, request);
  const { action = 'run' } = /** @type {{action?: string}} */ (request);
  if (action !== 'run') {
    const whole = ask(bridge, request);
    tellFirst(whole);
    return whole;
  }
  const reply = ask(bridge, { ...request, action: 'begin' });
  if (!('answer' in reply)) return reply;
  tellFirst(reply);
  const { rest, ...other } = ask(bridge, { action: 'rest' });
  return rest ? { answer: { ...reply.answer, ...rest } } : other;
}

/** @param {Bridge} bridge @param {object} request @returns {Record<string, any>} */
function ask(bridge, request) {
  return JSON.parse(bridge.answer(JSON.stringify(request, wellFormed)));
}

/** Half of a character can be typed by a script only; Python would refuse to write it. */
function wellFormed(/** @type {string} */ _key, /** @type {unknown} */ value) {
  return typeof value === 'string' ? value.replace(/\p{Surrogate}/gu, '\ufffd') : value;
}
