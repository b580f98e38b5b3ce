import { find, setText } from '../lib/find.js';
import { readSession, sessionKey, writeSession } from '../lib/session-storage.js';
import { isRuledOut, withoutClashes } from '../lib/which-checks.js';

/** @typedef {import('../lib/which-checks.js').Fits} Fits */
/** @typedef {import('../lib/which-checks.js').Answers} Answers */

/**
 * Leaves out of a table of checks what the reader's answers rule out. A question without an
 * answer rules nothing out, and neither do answers that can't both be true.
 */
export class ChecksElement extends HTMLElement {
  #key = '';

  connectedCallback() {
    const form = this.#form;
    if (!form || this.#key) return;
    this.#key = sessionKey('checks', this);
    this.#restore();
    form.addEventListener('change', () => this.#changed());
    // Enter in a radio would send the form away.
    form.addEventListener('submit', (event) => event.preventDefault());
    find(this, '[data-hb-checks-clear]').addEventListener('click', () => this.#cleared());
    form.hidden = false;
    this.#show();
  }

  get #form() {
    return /** @type {HTMLFormElement | null} */ (this.querySelector('[data-hb-checks-form]'));
  }

  get #questions() {
    return this.#all('[data-hb-checks-question]');
  }

  /** @param {string} selector @returns {HTMLElement[]} */
  #all(selector) {
    return [...this.querySelectorAll(selector)].map((node) => /** @type {HTMLElement} */ (node));
  }

  /** @returns {Answers} */
  get #given() {
    return Object.fromEntries(
      this.#questions.map((question) => [
        question.dataset.hbChecksQuestion ?? '',
        chosenIn(question)?.value ?? '',
      ]),
    );
  }

  /** @returns {Answers} as they stand in the form */
  get answers() {
    return this.#given;
  }

  /** @param {Answers} answers those of the open visit, which go before those of this window */
  set answers(answers) {
    this.#put(answers);
    this.#show();
  }

  #restore() {
    this.#put(/** @type {Answers | null} */ (readSession(this.#key)) ?? {});
  }

  /** @param {Answers} kept */
  #put(kept) {
    for (const question of this.#questions) {
      const value = kept[question.dataset.hbChecksQuestion ?? ''];
      // An answer that this edition does not know leaves the question open.
      const radio = radiosIn(question).find((each) => each.value === (value ?? ''));
      if (radio) radio.checked = true;
    }
  }

  #changed() {
    const given = this.#given;
    writeSession(this.#key, Object.values(given).some(Boolean) ? given : null);
    this.#show();
    this.dispatchEvent(new CustomEvent('hb:answers', { bubbles: true }));
  }

  #cleared() {
    this.#form?.reset();
    this.#changed();
  }

  #show() {
    const answers = this.#withoutClashes(this.#given);
    const rows = this.#all('[data-hb-check]');
    /** @type {Set<string>} */
    const open = new Set();
    let number = 0;
    for (const row of rows) {
      const fits = /** @type {Fits} */ (JSON.parse(row.dataset.hbCheck ?? '{}'));
      const asked = Object.keys(fits);
      row.hidden = isRuledOut(fits, answers);
      if (row.hidden) continue;
      const unsure = asked.filter((name) => !answers[name]);
      for (const name of unsure) open.add(name);
      showOpen(row, this.#labels(unsure));
      setText(find(row, '[data-hb-check-number]'), String((number += 1)));
    }
    this.#tell(rows, this.#labels([...open]));
  }

  /** @param {string[]} names @returns {string} labels of these questions, as they are asked */
  #labels(names) {
    return this.#questions
      .filter(({ dataset }) => names.includes(dataset.hbChecksQuestion ?? ''))
      .map(({ dataset }) => dataset.hbChecksLabel?.toLowerCase())
      .join(', ');
  }

  /**
   * Says of answers that can't all be true that they are, and takes none of them for sure.
   *
   * @param {Answers} given
   * @returns {Answers}
   */
  #withoutClashes(given) {
    const told = this.#all('[data-hb-checks-impossible]');
    const fits = told.map(({ dataset }) => JSON.parse(dataset.hbChecksImpossible ?? '{}'));
    const { sure, clashes } = withoutClashes(given, fits);
    for (const [place, clash] of told.entries()) clash.hidden = !clashes[place];
    return sure;
  }

  /**
   * @param {HTMLElement[]} rows
   * @param {string} unsure labels of the questions that a check still hangs on
   */
  #tell(rows, unsure) {
    const left = rows.filter((row) => row.hidden);
    setText(
      find(this, '[data-hb-checks-count]'),
      `${rows.length - left.length} of ${rows.length} checks to do.` +
        (unsure ? ` Some may fall away once you know: ${unsure}.` : ''),
    );
    const all = left.map((row) => find(row, '[data-hb-check-name]').textContent);
    const names = [...new Set(all)]; // some checks have one name, for one kind of flue each
    setText(
      find(this, '[data-hb-checks-left]'),
      names.length ? `Left out by your answers: ${names.join('; ')}.` : '',
    );
    const words = this.#questions.map(
      (question) => `${question.dataset.hbChecksLabel}: ${wordsOf(chosenIn(question))}.`,
    );
    setText(find(this, '[data-hb-checks-given]'), `The answers given. ${words.join(' ')}`);
  }
}

/** @param {Element} question @returns {HTMLInputElement[]} */
const radiosIn = (question) => [...question.querySelectorAll('input')];

/** @param {Element} question */
const chosenIn = (question) => radiosIn(question).find((radio) => radio.checked);

/** @param {HTMLInputElement | undefined} radio @returns {string} */
const wordsOf = (radio) => radio?.labels?.[0]?.textContent ?? '';

/**
 * @param {HTMLElement} row
 * @param {string} unsure labels of the questions that it hangs on and that have no answer
 */
function showOpen(row, unsure) {
  const note = find(row, '[data-hb-check-open]');
  setText(note, unsure && `Depends on: ${unsure}`);
  note.hidden = !unsure;
}
