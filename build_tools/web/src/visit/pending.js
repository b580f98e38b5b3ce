/**
 * What was typed and is not kept yet. A page that goes can start nothing that takes time, and the
 * database takes time: so each key stroke is written here at once, and taken off when it is kept.
 * What a page left behind is kept by the next one that starts, or by another one that is open. Doing
 * so twice changes nothing.
 *
 * Each page writes a place of its own, so that two windows never undo each other's.
 */

import { plainKey } from '../lib/appliance-key.js';
import { newId } from './visit-name.js';

/** @typedef {import('./visit-types.js').Typed} Typed */
/** @typedef {{place: string, text: string, typed: Typed[]}} Left what one page left behind */

const PREFIX = 'hb:typed:';
/** A page that is there takes off what it wrote well before that. */
const LEFT_MS = 2000;

export class Pending {
  #own = PREFIX + newId();
  /** @type {Map<string, Typed>} by the key of the entry */ #all = new Map();

  /**
   * @param {Typed} typed
   * @returns {boolean} whether it is written: the device may be full, or refuse
   */
  note(typed) {
    this.#all.set(typed.key, typed);
    return this.#write();
  }

  /** @param {Typed} typed is kept by now, or never will be. What was typed later stays. */
  settle(typed) {
    if (this.#all.get(typed.key) !== typed) return;
    this.#all.delete(typed.key);
    this.#write();
  }

  #write() {
    try {
      if (this.#all.size) localStorage.setItem(this.#own, JSON.stringify([...this.#all.values()]));
      else localStorage.removeItem(this.#own);
      return true;
    } catch {
      return false;
    }
  }

  /** @returns {Left[]} by every other page, also by one that still runs */
  left() {
    try {
      const places = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
      return places.filter((place) => place !== this.#own).map(leftIn);
    } catch {
      return [];
    }
  }

  /** @param {() => void} act when another page has written something and does not keep it itself */
  onLeft(act) {
    /** @type {ReturnType<typeof setTimeout> | undefined} */ let waiting;
    window.addEventListener('storage', ({ key }) => {
      if (!key?.startsWith(PREFIX)) return;
      clearTimeout(waiting);
      if (this.left().length) waiting = setTimeout(act, LEFT_MS);
    });
  }

  /** @param {Left} left is kept, and goes unless its page has written more since */
  forget({ place, text }) {
    try {
      if (localStorage.getItem(place) === text) localStorage.removeItem(place);
    } catch {
      // Then it is kept once more at the next start, which changes nothing.
    }
  }
}

/** @param {string} place @returns {Left} what there has its form */
function leftIn(place) {
  const text = localStorage.getItem(place) ?? '';
  try {
    const all = /** @type {unknown} */ (JSON.parse(text));
    return { place, text, typed: Array.isArray(all) ? all.filter(isTyped) : [] };
  } catch {
    return { place, text, typed: [] };
  }
}

/** @param {any} each @returns {each is Typed} */
function isTyped(each) {
  const { visit, key, at, entry } = each ?? {};
  const isWhole = [key, at].every((text) => typeof text === 'string') && typeof entry === 'object';
  const name = entry?.kind === 'tick' ? `${entry.procedure}.${entry.step}` : entry?.name;
  const isFitting = !entry || (plainKey(key) === `${entry.kind}:${name}` && entry.at === at);
  return isWhole && isFitting && (visit === null || typeof visit === 'string');
}

export const pending = new Pending();
