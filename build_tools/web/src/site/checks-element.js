import { find, setText } from '../lib/find.js';
import { readSession, sessionKey, writeSession } from '../lib/session-storage.js';

/** @typedef {Record<string, string[]>} Fits answers by question: any one of each will do */
/** @typedef {Record<string, string>} Answers one by question, empty while the reader is not sure */

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

  #restore() {
    const kept = /** @type {Answers | null} */ (readSession(this.#key)) ?? {};
    for (const question of this.#questions) {
      const value = kept[question.dataset.hbChecksQuestion ?? ''];
      // An answer that this edition does not know leaves the question open.
      const radio = radiosIn(question).find((each) => each.value === value);
      if (radio) radio.checked = true;
    }
  }

  #changed() {
    const given = this.#given;
    writeSession(this.#key, Object.values(given).some(Boolean) ? given : null);
    this.#show();
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
      row.hidden = asked.some((name) => answers[name] && !fits[name]?.includes(answers[name]));
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
    const sure = { ...given };
    for (const clash of this.#all('[data-hb-checks-impossible]')) {
      const fits = /** @type {Fits} */ (JSON.parse(clash.dataset.hbChecksImpossible ?? '{}'));
      clash.hidden = !Object.entries(fits).every(([name, fit]) => fit.includes(given[name] ?? ''));
      if (!clash.hidden) for (const name of Object.keys(fits)) sure[name] = '';
    }
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
    const names = left.map((row) => find(row, '[data-hb-check-name]').textContent);
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
