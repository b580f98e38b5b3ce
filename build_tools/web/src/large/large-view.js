/** One thing at a time, large on the screen: for a class that looks at a projector. */

import { make } from '../practice/elements.js';

/**
 * @typedef {object} Sheet one thing that is shown
 * @property {string} where what it is and which of how many
 * @property {Node[]} shown
 * @property {Node[]} answer what is shown once it is asked for
 */
/**
 * @typedef {object} Sheets
 * @property {(number: number) => Sheet | null | Promise<Sheet | null>} at null where there is none
 * @property {string} ask what the button says that shows the answer
 */

const STEPS = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowLeft: -1 });

export class LargeView {
  #sheets;
  #number = 0;
  #dialog = make('dialog', { is: 'hb-large' });
  #where = make('p', { is: 'hb-large__where' });
  #body = make('div', { is: 'hb-large__body' });
  #answer = make('div', { is: 'hb-large__answer' });
  #back = button('Back', 'back', () => void this.#move(-1));
  #ask = button('', 'ask', () => this.#toggle());
  #on = button('Next', 'on', () => void this.#move(1));

  /** @param {Sheets} sheets */
  constructor(sheets) {
    this.#sheets = sheets;
    this.#dialog.dataset.hbLarge = '';
    this.#dialog.setAttribute('aria-label', 'On a projector');
    this.#answer.dataset.hbLargeAnswer = '';
    this.#answer.setAttribute('aria-live', 'polite');
    this.#ask.classList.add('hb-button--main');
    const leave = button('Leave', 'leave', () => this.#dialog.close());
    const acts = make('div', { is: 'hb-large__acts' }, [this.#back, this.#ask, this.#on, leave]);
    const sheet = make('div', { is: 'hb-large__sheet' }, [this.#body, this.#answer]);
    sheet.tabIndex = 0; // what is longer than the screen is scrolled by keys too
    sheet.setAttribute('role', 'region');
    sheet.setAttribute('aria-label', 'What is shown');
    this.#dialog.append(this.#where, sheet, acts);
    this.#dialog.addEventListener('keydown', (event) => this.#typed(event));
    this.#dialog.addEventListener('close', () => this.#dialog.remove());
    document.addEventListener('hb:page', () => this.#dialog.close(), { once: true });
  }

  /** @param {number} number of the first sheet */
  async open(number = 0) {
    document.body.append(this.#dialog);
    this.#dialog.showModal();
    await this.#show(number);
  }

  /** @param {KeyboardEvent} event */
  #typed(event) {
    const by = STEPS[event.key];
    if (!by || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    void this.#move(by);
  }

  /** @param {number} by */
  async #move(by) {
    if (this.#number + by >= 0) await this.#show(this.#number + by);
  }

  /** @param {number} number */
  async #show(number) {
    const sheet = await this.#sheets.at(number);
    if (!sheet) return;
    this.#number = number;
    this.#where.textContent = sheet.where;
    this.#body.replaceChildren(...sheet.shown);
    this.#answer.replaceChildren(...sheet.answer);
    this.#ask.disabled = sheet.answer.length === 0;
    this.#back.disabled = number === 0;
    this.#open(false);
    this.#body.parentElement?.scrollTo(0, 0);
    // Enter and the space bar show the answer, whatever was touched last.
    (this.#ask.disabled ? this.#on : this.#ask).focus();
  }

  #toggle() {
    this.#open(this.#answer.hidden === true);
    if (!this.#answer.hidden)
      this.#answer.scrollIntoView({ behavior: 'instant', block: 'nearest' });
  }

  /** @param {boolean} isOpen */
  #open(isOpen) {
    this.#answer.hidden = !isOpen;
    this.#ask.textContent = isOpen ? 'Hide it' : this.#sheets.ask;
    this.#ask.setAttribute('aria-expanded', String(isOpen));
  }
}

/** @param {string} words @param {string} name @param {() => void} act */
function button(words, name, act) {
  const made = make('button', { text: words, is: 'hb-button' });
  made.type = 'button';
  made.dataset.hbLargeAct = name;
  made.addEventListener('click', act);
  return made;
}
