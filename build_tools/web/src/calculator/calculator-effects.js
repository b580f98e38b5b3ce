import { today } from '../lib/written-day.js';
import { withOwn } from '../own/with-own.js';

/** @typedef {import('./calculator-parts.js').Parts} Parts */
/** @typedef {import('../protocol/bridge-types.js').Answer} Answer */
/** @typedef {import('../protocol/bridge-types.js').Refused} Refused */
/** @typedef {import('../protocol/bridge-types.js').Request} Request */
/** @typedef {import('../protocol/bridge-types.js').Settled} Settled */
/** @typedef {import('./latest-request.js').LatestRequest<Request, any>} Questions */

/** What a calculator does on the way from one state to the next: see calculator-machine.js. */
export class CalculatorEffects {
  /** @type {HTMLElement} */ #root;
  /** @type {Parts} */ #parts;
  /** @type {Questions} */ #questions;
  /** @type {Request | null} whose figures were shown before the whole answer */ #figuresOf = null;
  /** @type {Settled | null} the answer that is shown, with all that it was worked out from */
  settled = null;
  /** The reader asked for the answer outright, and no reply to that has come. */
  outright = false;
  /** ... and has touched nothing since, so that the reply may take the focus. */
  rests = false;

  /**
   * @param {HTMLElement} root the calculator
   * @param {Parts} parts
   * @param {Questions} questions
   */
  constructor(root, parts, questions) {
    this.#root = root;
    this.#parts = parts;
    this.#questions = questions;
  }

  open() {
    this.#parts.outcome.open();
  }

  question() {
    const calculator = this.#root.getAttribute('calculator') ?? '';
    const inputs = this.#parts.reader.read();
    this.#questions.ask({ action: 'run', calculator, today: today(), inputs, ...withOwn() });
  }

  example() {
    this.#questions.forget();
    this.#parts.refusals.clear();
    this.#parts.outcome.showExample();
    this.#tell();
  }

  wait() {
    this.#parts.outcome.showRestart();
  }

  /** @param {{answer: Answer, request: Request}} first the first part of the reply */
  figures({ answer, request }) {
    this.#parts.outcome.showFigures(answer);
    this.#parts.refusals.show([]);
    this.#figuresOf = request;
  }

  /** @param {{answer: Answer, request: Request}} reply */
  answer({ answer, request }) {
    const { outcome, reader, refusals } = this.#parts;
    const { moves } = this.#wish();
    refusals.show([]);
    const given = reader.given(answer.inputs);
    this.settled = { answer, given, inputs: request.inputs };
    outcome.showAnswer(answer, given, this.#figuresOf === request);
    if (moves) outcome.focusAnswer();
    this.#tell();
  }

  /** @param {{refused: Refused[]}} reply */
  refusals({ refused }) {
    const { outcome, reader, refusals } = this.#parts;
    const { outright, moves } = this.#wish();
    refusals.show(refused);
    outcome.showRefused(refused, (name) => reader.labelOf(name));
    if (outright) refusals.showSummary();
    if (moves) refusals.focusSummary();
    this.#tell();
  }

  /** @param {{message: string}} failure */
  reason({ message }) {
    this.#wish();
    this.#parts.outcome.showStopped(message);
    this.#tell();
  }

  /** What the reader wished of this reply: to be told outright, and to be taken to it. */
  #wish() {
    const { outright, rests } = this;
    this.outright = false;
    return { outright, moves: outright && rests };
  }

  /** Lets the visit record know that an answer has come or gone. */
  #tell() {
    this.#root.dispatchEvent(new CustomEvent('hb:settled', { bubbles: true }));
  }
}
