import { find, setText } from '../lib/find.js';

/** A screen reader hears an answer once the reader has paused, not at each keystroke. */
const PAUSE_MS = 900;

const WORDS = '[data-hb-status-words]';

/** Says how the calculator is getting on. Its words stand in the page, one for each state. */
export class StatusView {
  /** @type {HTMLElement} */ #status;
  /** @type {HTMLElement} */ #waiting;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #pause;

  /** @param {HTMLElement} root the calculator */
  constructor(root) {
    this.#status = find(root, '[data-hb-status]');
    this.#waiting = find(root, '[data-hb-waiting]');
  }

  /** @param {string} name @returns {string} the words for it, or nothing */
  words(name) {
    // Several calculators on one page share the words of the first.
    const holder = this.#status.closest(WORDS) ?? document.querySelector(WORDS);
    return holder?.getAttribute(`data-hb-${name}`) ?? '';
  }

  /** @param {string} text */
  say(text) {
    clearTimeout(this.#pause);
    setText(this.#status, text);
  }

  /** @param {() => string} text said after a pause, and only the last one */
  sayLater(text) {
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => setText(this.#status, text()), PAUSE_MS);
  }

  /** @param {{needed?: string, reason?: string, again?: boolean, stop?: boolean} | null} why there is no answer */
  wait(why) {
    this.#waiting.hidden = !why;
    const needed = why?.needed ?? '';
    setText(find(this.#waiting, '[data-hb-slot="needed"]'), needed);
    find(this.#waiting, '[data-hb-needed]').hidden = !needed;
    const reason = find(this.#waiting, '[data-hb-slot="reason"]');
    setText(reason, why?.reason ?? '');
    reason.hidden = !why?.reason;
    find(this.#waiting, '[data-hb-again]').hidden = !why?.again;
    find(this.#waiting, '[data-hb-stop]').hidden = !why?.stop;
  }
}
