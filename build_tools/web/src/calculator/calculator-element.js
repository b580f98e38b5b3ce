import { onReady, run, stop } from '../client/shared-client.js';
import { find } from '../lib/find.js';
import { today } from '../lib/written-day.js';
import { partsOf } from './calculator-parts.js';
import { controlValues } from './control-values.js';
import { LatestRequest } from './latest-request.js';

/** @typedef {import('./calculator-parts.js').Parts} Parts */
/** @typedef {import('../protocol/bridge-types.js').Reply} Reply */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {import('../protocol/bridge-types.js').Settled} Settled */
/** @typedef {import('../protocol/bridge-types.js').Request} Request */

/** A reader who rests this long in a field is told what is wrong with it. */
const PAUSE_MS = 1200;

/** One calculator on a page: what is typed goes to the worker, what comes back is shown. */
export class CalculatorElement extends HTMLElement {
  /** @type {Parts | null} */ #made = null;
  /** @type {LatestRequest<Request, Reply>} */ #latest = new LatestRequest(
    run,
    ({ request, reply, error }) => {
      if (reply) this.#show(reply, request);
      else this.#failed(error);
      this.#tell();
    },
    ({ request, first }) => this.#showFirst(first, request),
    () => this.#parts.outcome.showRestart(),
  );
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #pause;
  /** The reader asked for the answer outright, and no reply to that has come. */
  #outright = false;
  /** ... and has touched nothing since, so that the reply may take the focus. */
  #rests = false;
  #asked = false;
  /** @type {Settled | null} */ #settled = null;
  /** @type {Request | null} whose figures were shown before the whole answer */ #figuresOf = null;

  connectedCallback() {
    if (this.#made) return;
    // On a page that is swapped in, this element comes to life before the rows inside it.
    customElements.upgrade(this);
    this.#made = partsOf(this);
    const { form } = this.#made;
    form.addEventListener('input', (event) => this.#typed(event));
    form.addEventListener('focusout', (event) => this.#left(event));
    form.addEventListener('submit', (event) => this.#submitted(event));
    this.addEventListener('hb:reading', (event) => this.#took(/** @type {CustomEvent} */ (event)));
    find(this, '[data-hb-clear]').addEventListener('click', () => this.#cleared());
    find(this, '[data-hb-fill-example]').addEventListener('click', () => this.#filledExample());
    find(this, '[data-hb-again]').addEventListener('click', () => this.#askOutright());
    find(this, '[data-hb-stop]').addEventListener('click', stop);
    this.#open();
  }

  /** @returns {Parts} */
  get #parts() {
    if (!this.#made) throw new Error('This calculator is not on a page yet.');
    return this.#made;
  }

  #open() {
    const { form, example, memory, conditions, outcome } = this.#parts;
    memory.restore();
    conditions.apply();
    // Invented readings have no place in a step: they could be taken for the job's own.
    const hasNone = Object.keys(example).length === 0;
    find(form, '[data-hb-fill-example]').hidden = hasNone || outcome.inStep;
    form.hidden = false;
    outcome.open();
    onReady(() => {
      if (outcome.state === 'starting') outcome.state = this.#asked ? 'working' : 'ready';
    });
    if (!this.#parts.reader.isBlank) this.#changed();
  }

  /** @param {Event} event */
  #typed(event) {
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#left(event), PAUSE_MS);
    this.#rests = false;
    this.#parts.invented.forget([/** @type {HTMLInputElement} */ (event.target).name]);
    this.#changed();
  }

  /** @returns {Settled | null} the answer that is shown, with all that it was worked out from */
  get settled() {
    return this.#settled;
  }

  /** @returns {Record<string, Given>} what stands in the form now */
  get inputs() {
    return this.#parts.reader.read();
  }

  /** @returns {string[]} labels of the fields that hold a figure of the invented example */
  get invented() {
    return this.#parts.invented.labels;
  }

  /** @param {Record<string, Given>} given readings, which leave the other fields as they are */
  fill(given) {
    const { form, invented, memory } = this.#parts;
    const { values, rows } = controlValues(form, given);
    invented.forget(Object.keys(values));
    memory.fill(values, rows);
    this.#changed();
  }

  /** Lets the visit record know that an answer has come or gone. */
  #tell() {
    this.dispatchEvent(new CustomEvent('hb:settled', { bubbles: true }));
  }

  /** Something in the form is not as it was: remember it and ask for the answer. */
  #changed() {
    const { conditions, memory, reader, refusals, outcome } = this.#parts;
    this.#settled = null;
    conditions.apply();
    // A reader who asked outright is told, also if the form was emptied before the reply came.
    if (!reader.isBlank || this.#outright) this.#ask();
    else if (this.#asked) {
      this.#asked = false;
      this.#latest.forget();
      refusals.clear();
      outcome.showExample(outcome.state === 'starting' ? 'starting' : 'ready');
      this.#tell();
    }
    memory.save(); // while the worker is already at it
  }

  #ask() {
    const { outcome, reader } = this.#parts;
    this.#asked = true;
    if (outcome.state !== 'starting') outcome.state = 'working';
    const calculator = this.getAttribute('calculator') ?? '';
    this.#latest.ask({ action: 'run', calculator, today: today(), inputs: reader.read() });
  }

  /** @param {Event} event the reader left a field, or rests in it */
  #left(event) {
    const { name } = /** @type {HTMLInputElement} */ (event.target);
    if (name) this.#parts.refusals.leave(name.replace(/\.unit$/, ''));
  }

  /** @param {Event} event */
  #submitted(event) {
    event.preventDefault();
    this.#askOutright();
  }

  #askOutright() {
    this.#outright = true;
    this.#rests = true;
    this.#parts.refusals.ask();
    this.#ask();
  }

  /**
   * @param {Reply} first the first part of the reply
   * @param {Request} request
   */
  #showFirst({ answer }, request) {
    const { outcome, refusals } = this.#parts;
    if (!answer || !outcome.showFigures(answer)) return;
    refusals.show([]);
    this.#figuresOf = request;
  }

  /**
   * @param {Reply} reply
   * @param {Request} request
   */
  #show(reply, request) {
    const { outcome, reader, refusals } = this.#parts;
    const outright = this.#outright;
    const moves = outright && this.#rests;
    this.#outright = false;
    if (reply.answer) {
      refusals.show([]);
      const given = reader.given(reply.answer.inputs);
      this.#settled = { answer: reply.answer, given, inputs: request.inputs };
      outcome.showAnswer(reply.answer, given, this.#figuresOf === request);
      if (moves) outcome.focusAnswer();
    } else if (reply.refused) {
      refusals.show(reply.refused);
      outcome.showRefused(reply.refused, (name) => reader.labelOf(name));
      if (outright) refusals.showSummary();
      if (moves) refusals.focusSummary();
    } else {
      outcome.showStopped(reply.failed.message);
    }
  }

  /** @param {unknown} error two workers died or took too long over the same readings */
  #failed(error) {
    this.#outright = false;
    this.#parts.outcome.showStopped(error instanceof Error ? error.message : String(error));
  }

  /** @param {CustomEvent<{name: string, value: string, unit: string}>} event from a stopwatch */
  #took({ detail: { name, value, unit } }) {
    this.fill({ [name]: { value, unit } });
  }

  #filledExample() {
    const { form, example, invented, memory, refusals } = this.#parts;
    form.reset();
    refusals.clear();
    this.#outright = false;
    const { values, rows } = controlValues(form, example);
    memory.fill(values, rows);
    invented.mark(values);
    this.#changed();
  }

  #cleared() {
    const { form, invented, memory } = this.#parts;
    form.reset();
    invented.forgetAll();
    this.#asked = true;
    this.#outright = false;
    this.#changed();
    memory.forget();
  }
}
