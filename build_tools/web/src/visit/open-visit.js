/** The open visit, as this window knows it. Each change is told as `hb:visit` on the document. */

import { writeLocal } from '../lib/local-storage.js';
import { byTime } from '../lib/written-day.js';
import { pending } from './pending.js';
import { whyNot } from './reading-check.js';
import { PageLeft, storageErrorOf } from './storage-error.js';
import { tabSync } from './tab-sync.js';
import { nameFor, newVisit } from './visit-name.js';
import * as store from './visit-store.js';

/** @typedef {import('./visit-types.js').Entry} Entry */
/** @typedef {import('./visit-types.js').Reading} Reading */
/** @typedef {Omit<Reading, 'at'>} NewReading */
/** @typedef {import('./visit-types.js').StorageError} StorageError */
/** @typedef {import('./visit-types.js').Typed} Typed */
/** @typedef {import('./visit-types.js').Visit} Visit */

/** @param {string} name */
export const readingKey = (name) => `reading:${name}`;

class OpenVisit {
  /** @type {Visit | null} */ visit = null;
  /** @type {Map<string, Entry>} */ #entries = new Map();
  /** @type {StorageError | null} nothing can be kept at all */ storageError = null;
  /** What the page showed was deleted underneath it. */ isLost = false;
  #isRead = false;
  /** @type {Promise<unknown>} what was asked for last: one write waits for the other */
  #last = Promise.resolve();
  /** @type {Map<string, Typed['entry']>} what goes with the next change, by its key */
  #waiting = new Map();
  /** @type {Promise<void> | null} */ #kept = null;

  /** Reads what there is, and reads it again when another window has changed it. */
  async start() {
    tabSync.onChange(() => void this.read());
    const begin = async () => {
      await this.#keepLeft();
      await this.read();
    };
    // A page that comes back by Back was frozen meanwhile: it starts once more.
    window.addEventListener('pageshow', ({ persisted }) => persisted && void begin());
    pending.onLeft(() => void begin());
    document.addEventListener('hb:record-lost', () => void this.#seeIfLost());
    await begin();
  }

  /** Keeps what was typed last on a page that was left before it was kept. */
  async #keepLeft() {
    const left = pending.left();
    if (!left.length) return;
    const typed = left.flatMap((each) => each.typed).sort((one, other) => byTime(one.at, other.at));
    try {
      const names = (await store.overview()).visits.map(({ name }) => name);
      await store.keepTyped(typed, () => newVisit(nameFor(new Date(), names)));
      for (const each of left) pending.forget(each);
      tabSync.tell();
    } catch {
      // It stays for the next start. Why nothing can be kept is told when it is read.
    }
  }

  async #seeIfLost() {
    this.isLost = this.visit !== null;
    await this.read();
  }

  /**
   * @param {string} key
   * @returns {string} now, or just after what stands there where the clock was put back since
   */
  momentFor(key) {
    const now = new Date();
    const held = Date.parse(this.#entries.get(key)?.at ?? '');
    return new Date(held >= now.getTime() ? held + 1 : now).toISOString();
  }

  get isRead() {
    return this.#isRead;
  }

  /** @returns {Entry[]} */
  get entries() {
    return [...this.#entries.values()];
  }

  /** @param {string} key */
  entry(key) {
    return this.#entries.get(key);
  }

  /** @param {string} name @returns {Reading | undefined} */
  reading(name) {
    const entry = this.#entries.get(readingKey(name));
    return entry?.kind === 'reading' ? entry : undefined;
  }

  /** @param {string} name @returns {Reading | undefined} where it is one that a calculator can take */
  usable(name) {
    const reading = this.reading(name);
    return reading && !whyNot(reading) ? reading : undefined;
  }

  async read() {
    try {
      const { visit, entries } = await store.readOpenVisit();
      this.visit = visit;
      if (visit) this.isLost = false;
      this.#entries = new Map(entries.map((entry) => [entry.key, entry]));
      this.storageError = null;
    } catch (error) {
      if (error instanceof PageLeft) return;
      this.storageError = storageErrorOf(error);
    }
    this.#isRead = true;
    this.#tell();
  }

  /**
   * Keeps what was typed into a field, together with what was asked for while another change went on.
   *
   * @param {Pick<Typed, 'key' | 'entry'>} typed
   * @returns {Promise<void>}
   * @throws what `storageErrorOf` has a name for; nothing of it was kept then
   */
  keepTyped({ key, entry }) {
    this.#waiting.set(key, entry);
    this.#kept ??= this.act(() => {
      const all = [...this.#waiting];
      this.#waiting.clear();
      this.#kept = null;
      return this.#write(
        (visit) => all.flatMap(([at, each]) => (each ? { visit, key: at, ...each } : [])),
        all.filter(([, each]) => !each).map(([at]) => at),
      );
    });
    return this.#kept;
  }

  /** @param {NewReading[]} readings one without a value is taken out */
  async keepReadings(readings) {
    const at = new Date().toISOString();
    await Promise.all(
      readings.map((each) => {
        const entry = each.value ? { kind: /** @type {const} */ ('reading'), ...each, at } : null;
        return this.keepTyped({ key: readingKey(each.name), entry });
      }),
    );
  }

  /**
   * @param {(visit: string) => Entry[]} make
   * @param {string[]} [gone] keys that are taken out
   * @throws what `storageErrorOf` has a name for; nothing of it was kept then
   */
  async keep(make, gone = []) {
    await this.act(() => this.#write(make, gone));
  }

  /** @param {(visit: string) => Entry[]} make @param {string[]} gone */
  async #write(make, gone) {
    const { visit } = this;
    if (!visit && !make('').length) return; // nothing to take out, and nothing to open one for
    const others = visit ? [] : (await store.overview()).visits.map(({ name }) => name);
    const begun = () => newVisit(nameFor(new Date(), others));
    await store.changeEntries(visit?.id ?? null, make, gone, begun);
    // Without this a browser may clear it when the device runs out of room.
    if (!visit) void navigator.storage?.persist?.().catch(() => {});
  }

  /**
   * Changes something in the store, one change after the other, then reads it again.
   *
   * @template T
   * @param {() => Promise<T>} change
   * @returns {Promise<T>}
   */
  async act(change) {
    const before = this.#last;
    const doing = (async () => {
      await before.catch(() => {});
      try {
        return await change();
      } finally {
        await this.read();
        tabSync.tell();
      }
    })();
    this.#last = doing;
    return doing;
  }

  #tell() {
    // For the home page, which opens no database.
    const count = this.entries.filter(({ kind }) => kind === 'reading').length;
    const mirror = this.visit && JSON.stringify({ name: this.visit.name, readings: count });
    if (!this.storageError) writeLocal('hb:visit', mirror);
    document.dispatchEvent(new CustomEvent('hb:visit'));
  }
}

export const openVisit = new OpenVisit();
