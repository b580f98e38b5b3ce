import { AnswerView } from './answer-view.js';
import { markFirstAnswer } from './first-answer.js';
import { StatusView } from './status-view.js';

/** @typedef {import('../protocol/bridge-types.js').Answer} Answer */
/** @typedef {import('../protocol/bridge-types.js').Refused} Refused */
/** @typedef {import('../protocol/bridge-types.js').State} State */

/** States that pass before they are worth a word. */
const BRIEF = new Set(['starting', 'working']);

/** Until then the answer before stands as it stood: to draw it paler at each key would cost a frame. */
const LATE_MS = 300;

/** From then on the reader is told that it takes long, and may stop it. */
const LONG_MS = 2000;

/** What stands beside the form: the worked example, an answer, or why there is none. */
export class OutcomeView {
  /** @type {HTMLElement} */ #root;
  /** @type {AnswerView} */ #answers;
  /** @type {StatusView} */ #status;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #late;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #long;

  /** @param {HTMLElement} root the calculator */
  constructor(root) {
    this.#root = root;
    this.#answers = new AnswerView(root);
    this.#status = new StatusView(root);
  }

  /** @returns {State} */
  get state() {
    return /** @type {State} */ (this.#root.dataset.state);
  }

  /** @param {State} state where the calculator's machine is now */
  enter(state) {
    if (this.state === state) return;
    this.#root.dataset.state = state;
    clearTimeout(this.#late);
    clearTimeout(this.#long);
    this.#root.removeAttribute('data-hb-late');
    if (state === 'working') {
      this.#late = setTimeout(() => this.#root.toggleAttribute('data-hb-late', true), LATE_MS);
      this.#long = setTimeout(() => this.#showWait('long'), LONG_MS);
    }
    const words = this.#status.words(state);
    if (BRIEF.has(state)) this.#status.sayLater(() => words);
    else this.#status.say(words);
  }

  showExample() {
    if (this.inStep) return this.#waitForReadings();
    this.#status.wait(null);
    this.#answers.showExample();
  }

  /** The form has come alive, and nothing is typed in it yet. */
  open() {
    if (this.inStep) this.#waitForReadings();
  }

  /** The invented visit's figures are no help in a step where the reader has figures of their own. */
  #waitForReadings() {
    this.#answers.show(false);
    this.#status.wait({ reason: this.#status.words('blank') });
  }

  get inStep() {
    return this.#root.closest('[data-hb-step]') !== null;
  }

  /** Whether an answer of the reader's own stands here, whole. */
  get stands() {
    return this.#answers.stands;
  }

  /**
   * The figures of an answer that takes the place of another; what comes whole, comes after them.
   *
   * @param {Answer} answer its first part
   */
  showFigures(answer) {
    this.#answers.showFigures(answer);
  }

  /**
   * @param {Answer} answer
   * @param {import('../protocol/bridge-types.js').Item[]} given what it was worked out from
   * @param {boolean} figuresStand whether its figures are shown already
   */
  showAnswer(answer, given, figuresStand) {
    this.#status.wait(null);
    this.#answers.showAnswer(answer, this.#status.words('own-title'), given, figuresStand);
    this.#status.sayLater(() => this.#answers.spoken);
    void markFirstAnswer();
  }

  /**
   * An answer that no longer belongs to the readings is taken away, never left standing.
   *
   * @param {Refused[]} refused
   * @param {(name: string) => string} labelOf
   */
  showRefused(refused, labelOf) {
    const missing = refused.filter(({ field, kind }) => field && kind === 'missing');
    const whole = refused.filter(({ field }) => !field);
    this.#answers.show(false);
    this.#status.wait({
      needed: missing.map(({ field }) => labelOf(field ?? '')).join(', '),
      reason: whole.map(({ message }) => message).join(' '),
    });
  }

  /** A worker was lost over these readings, and another one is at it. */
  showRestart() {
    clearTimeout(this.#long);
    this.#showWait('restart');
  }

  /** @param {'long' | 'restart'} why an answer to other readings must not stand meanwhile */
  #showWait(why) {
    const reason = this.#status.words(why);
    this.#answers.show(false);
    this.#status.wait({ reason, stop: true });
    this.#status.say(reason);
  }

  /** @param {string} reason */
  showStopped(reason) {
    this.#answers.show(false);
    this.#status.wait({ reason, again: true });
  }

  focusAnswer() {
    this.#answers.focus();
  }
}
