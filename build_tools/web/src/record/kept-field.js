/** A field whose text is kept in the open visit: typing that rests is kept, without a button. */

import { setText } from '../lib/find.js';
import { ownerFor, ownerOf } from '../visit/appliances.js';
import { openVisit } from '../visit/open-visit.js';
import { pending } from '../visit/pending.js';
import {
  LOST_WORDS,
  NEVER_KEPT,
  PageLeft,
  storageErrorOf,
  storageErrorWords,
} from '../visit/storage-error.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */
/** @typedef {import('../visit/visit-types.js').Typed} Typed */
/** @typedef {import('./word-choice.js').WordChoice} WordChoice */
/** @typedef {HTMLInputElement | HTMLTextAreaElement | WordChoice} Control */

const SAVE_MS = 300; // typing rests this long: kept well within a second

/** What a reading and a note have in common. What each is, its own class says. */
export class KeptField {
  /** @type {string} what the visit keeps it under */ #key;
  /** @type {Control} */ #control;
  /** @type {HTMLElement} */ #said;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #saving;
  /** @type {Typed | null} what was typed last and is not kept, or is on its way */ #typed = null;
  /** It was typed before the record was read: whose it is is not sure yet. */ #isEarly = false;
  /** What stands in the field stands nowhere else. */ #isLost = false;

  /**
   * @param {string} key
   * @param {Control} control
   * @param {HTMLElement} said where it is said what became of it
   */
  constructor(key, control, said) {
    this.#key = key;
    this.#control = control;
    this.#said = said;
    said.classList.add('hb-kept');
    said.setAttribute('role', 'status');
  }

  /** Once all of the field is in the page. */
  begin() {
    this.#control.addEventListener('input', () => this.#note());
    this.#control.addEventListener('change', () => void this.save());
    this.show();
  }

  /** Something was typed: it is kept when typing rests. */
  #note() {
    this.#typed = this.#read();
    this.#isEarly = !openVisit.isRead;
    clearTimeout(this.#saving);
    // Where it can't be written down for a page that goes, it is kept without waiting.
    const wait = pending.note(this.#typed) ? SAVE_MS : 0;
    this.#saving = setTimeout(() => void this.save(), wait);
  }

  get isThere() {
    return this.#control.isConnected;
  }

  /**
   * @param {string} _text what stands in the field
   * @param {string} _at
   * @returns {Typed['entry']} what is kept of it; null takes it out
   */
  entryOf(_text, _at) {
    throw new Error('Each kind of field says what is kept of it.');
  }

  /** @param {Entry | undefined} _entry @returns {string} as the field shows it */
  textOf(_entry) {
    throw new Error('Each kind of field says how it is shown.');
  }

  /** @param {string} text another than stands there */
  put(text) {
    this.#control.value = text;
  }

  /** @param {Entry | undefined} _entry what the visit holds now, whatever stands in the field */
  held(_entry) {}

  /**
   * The field shows what the visit holds.
   *
   * @param {Entry | undefined} _entry
   * @returns {boolean} whether something is to be said of it
   */
  judge(_entry) {
    return false;
  }

  /** @param {boolean} isIn whether there is something to keep @returns {string} when that is done */
  doneWords(isIn) {
    return isIn ? 'Kept' : '';
  }

  /** @returns {Typed} */
  #read() {
    const key = openVisit.keyNow(this.#key);
    const at = openVisit.momentFor(key);
    const entry = this.entryOf(this.#control.value, at);
    const appliance = ownerFor(this.#key, openVisit.appliance);
    return { visit: openVisit.visit?.id ?? null, key, at, entry: entry && { ...entry, appliance } };
  }

  /** What the visit holds, unless the reader is typing something else. */
  show() {
    if (this.#isEarly && this.#typed && openVisit.isRead) {
      pending.settle(this.#typed);
      this.#note();
    }
    // Another appliance was chosen: what was typed goes to the one that it was typed for.
    const typed = this.#typed;
    if (typed && this.#isOfAnother(typed)) void this.#keepForAnother(typed);
    const entry = openVisit.entry(this.#key);
    if (this.#typed === null) this.#showHeld(entry);
    this.held(entry);
  }

  /** @param {Entry | undefined} entry */
  #showHeld(entry) {
    if (openVisit.isLost && this.#control.value) {
      this.say(LOST_WORDS, 'error');
      this.#isLost = true;
    }
    if (this.#isLost && !entry) return; // the only place where it still stands
    this.#isLost = false;
    const text = this.textOf(entry);
    if (this.#control.value !== text) {
      this.put(text);
      this.say(''); // kept by another field or another window
    }
    this.judge(entry);
  }

  /** Keeps what was typed. Where that fails, it stands where it is and the reason beside it. */
  async save() {
    clearTimeout(this.#saving);
    const typed = this.#typed;
    if (typed === null || this.#isEarly) return;
    try {
      await openVisit.keepTyped(typed);
      pending.settle(typed);
      if (this.#typed === typed) this.#typed = null;
      this.#isLost = false;
      // WebKit empties a field without autocomplete when Back brings its page again.
      if (typed.entry && !this.#control.value) this.show();
      if (!this.judge(openVisit.entry(this.#key))) {
        this.say(this.doneWords(typed.entry !== null), 'kept');
      }
    } catch (error) {
      if (!(error instanceof PageLeft)) this.#failed(error, typed);
    }
  }

  /** @param {Typed} typed @returns {boolean} not where its own was taken out: it has no other place */
  #isOfAnother({ key, entry }) {
    const owner = ownerOf({ key, appliance: entry?.appliance });
    const isThere = openVisit.appliances.some(({ id }) => id === owner);
    return isThere && key !== openVisit.keyNow(this.#key);
  }

  /** @param {Typed} typed what the field shows from now on is of the one that was chosen */
  async #keepForAnother(typed) {
    clearTimeout(this.#saving);
    this.#typed = null;
    try {
      await openVisit.keepTyped(typed);
      pending.settle(typed);
    } catch (error) {
      if (!(error instanceof PageLeft)) this.#failed(error, typed);
    }
  }

  /** @param {unknown} error @param {Typed} typed */
  #failed(error, typed) {
    const storageError = storageErrorOf(error);
    // Kept again by itself it would open a visit that nobody asked for.
    if (storageError === 'gone' || storageError === 'removed') {
      this.#typed = null;
      this.#isLost = true;
    }
    if (NEVER_KEPT.has(storageError)) pending.settle(typed);
    this.say(storageErrorWords(storageError), 'error');
  }

  /**
   * @param {string} words
   * @param {string} [state]
   */
  say(words, state = '') {
    this.#said.dataset.state = state;
    setText(this.#said, words);
  }
}
