/** The open visit, as this window knows it. Each change is told as `hb:visit` on the document. */

import { FIRST, storedKey } from '../lib/appliance-key.js';
import { writeLocal } from '../lib/local-storage.js';
import { PRESENT_VISIT, presentVisit } from '../lib/present-visit.js';
import { byTime } from '../lib/written-day.js';
import { ApplianceEntries, ownerFor, placed } from './appliances.js';
import { pending } from './pending.js';
import { whyNot } from './reading-check.js';
import { PageLeft, storageErrorOf } from './storage-error.js';
import { tabSync } from './tab-sync.js';
import { nameFor, newVisit } from './visit-name.js';
import * as store from './visit-store.js';

/** @typedef {import('./visit-types.js').Appliance} Appliance */
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
  /** Which of its appliances is worked on, in every window. */ appliance =
    presentVisit()?.appliance ?? FIRST; // as the page last knew it, until the record is read
  /** @type {Entry[]} of all appliances */ allEntries = [];
  /** @type {ApplianceEntries} */ #here = new ApplianceEntries([], FIRST);
  /** @type {Map<string, string>} when each was kept, by the key that it is kept under */
  #moments = new Map();
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
    const begin = () => this.keepLeft();
    // A page that comes back by Back was frozen meanwhile: it starts once more.
    window.addEventListener('pageshow', ({ persisted }) => persisted && void begin());
    pending.onLeft(() => void begin());
    document.addEventListener('hb:record-lost', () => void this.#seeIfLost());
    await begin();
  }

  /** Keeps what was typed last on a page that was left before it was kept, and reads all again. */
  async keepLeft() {
    await this.#keepLeft();
    await this.read();
  }

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
   * @param {string} key that it is kept under
   * @returns {string} now, or just after what stands there where the clock was put back since
   */
  momentFor(key) {
    const now = new Date();
    const held = Date.parse(this.#moments.get(key) ?? '');
    return new Date(held >= now.getTime() ? held + 1 : now).toISOString();
  }

  get isRead() {
    return this.#isRead;
  }

  /** @returns {Entry[]} of the appliance that is worked on, with what all share */
  get entries() {
    return this.#here.entries;
  }

  /** @param {string} key as a visit of one appliance has it */
  entry(key) {
    return this.#here.entry(key);
  }

  /** @param {string} name @returns {Reading | undefined} */
  reading(name) {
    return this.#here.reading(name);
  }

  /** @param {string} appliance @returns {ApplianceEntries} what that one has, whichever is worked on */
  of(appliance) {
    return new ApplianceEntries(this.allEntries, appliance);
  }

  /** @returns {Appliance[]} */
  get appliances() {
    return this.visit?.appliances ?? [];
  }

  /** @returns {string} its name where there are several, so that none is taken for another */
  get applianceName() {
    const { appliances } = this;
    const own = appliances.find(({ id }) => id === this.appliance);
    return appliances.length > 1 ? (own?.name ?? '') : '';
  }

  /** @param {string} key @returns {string} that it is kept under, for the appliance worked on */
  keyNow(key) {
    return storedKey(key, ownerFor(key, this.appliance));
  }

  /** @param {string} name @returns {Reading | undefined} where it is one that a calculator can take */
  usable(name) {
    const reading = this.reading(name);
    return reading && !whyNot(reading) ? reading : undefined;
  }

  async read() {
    try {
      const { visit, appliance, entries } = await store.readOpenVisit();
      this.visit = visit;
      if (visit) this.isLost = false;
      this.appliance = appliance;
      this.allEntries = entries;
      this.#here = new ApplianceEntries(entries, appliance);
      this.#moments = new Map(entries.map(({ key, at }) => [key, at]));
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
   * It says itself whose it is: since it was typed another appliance may have been chosen.
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
        const key = readingKey(each.name);
        const own = { kind: /** @type {const} */ ('reading'), ...each, at };
        const { key: stored, ...entry } = placed({ key, ...own }, this.appliance);
        return this.keepTyped({ key: stored, entry: each.value ? entry : null });
      }),
    );
  }

  /**
   * @param {(visit: string) => Entry[]} make with the keys of a visit of one appliance
   * @param {string[]} [gone] such keys, of what is taken out
   * @param {string} [appliance] whose it is, where it is not shared
   * @throws what `storageErrorOf` has a name for; nothing of it was kept then
   */
  async keep(make, gone = [], appliance = this.appliance) {
    const there = appliance === this.appliance ? this.#here : this.of(appliance);
    const keys = gone.map(
      (key) => there.entry(key)?.key ?? storedKey(key, ownerFor(key, appliance)),
    );
    const ofAppliance = (/** @type {string} */ visit) =>
      make(visit).map((entry) => placed(entry, appliance));
    await this.act(() => this.#write(ofAppliance, keys));
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
    // For the home page and for ticks and timers, which open no database.
    const count = this.allEntries.filter(({ kind }) => kind === 'reading').length;
    const { visit, appliance, applianceName } = this;
    const about = visit && {
      id: visit.id,
      appliance,
      applianceName,
      name: visit.name,
      readings: count,
    };
    const mirror = about && JSON.stringify(about);
    if (!this.storageError) writeLocal(PRESENT_VISIT, mirror);
    document.dispatchEvent(new CustomEvent('hb:visit'));
  }
}

export const openVisit = new OpenVisit();
