import { onReady, run, stop } from '../client/shared-client.js';
import { find } from '../lib/find.js';
import { CalculatorEffects } from './calculator-effects.js';
import { next } from './calculator-machine.js';
import { partsOf } from './calculator-parts.js';
import { controlValues } from './control-values.js';
import { LatestRequest } from './latest-request.js';

/** @typedef {import('./calculator-machine.js').Event} MachineEvent */
/** @typedef {import('./calculator-parts.js').Parts} Parts */
/** @typedef {import('../protocol/bridge-types.js').Reply} Reply */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {import('../protocol/bridge-types.js').Request} Request */

/** A reader who rests this long in a field is told what is wrong with it. */
const PAUSE_MS = 1200;

/**
 * One calculator on a page. What the reader and the worker do comes in here, as an event of the
 * state machine; what is to be done about it is in calculator-effects.js.
 */
export class CalculatorElement extends HTMLElement {
  /** @type {{parts: Parts, effects: CalculatorEffects} | null} */ #made = null;
  /** @type {LatestRequest<Request, Reply>} */ #latest = new LatestRequest(
    run,
    ({ request, reply, error }) => this.#replied(request, reply, error),
    ({ request, first }) => this.#figured(first, request),
    () => this.#send('restart'),
  );
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #pause;

  connectedCallback() {
    if (this.#made) return;
    // On a page that is swapped in, this element comes to life before the rows inside it.
    customElements.upgrade(this);
    const parts = partsOf(this);
    this.#made = { parts, effects: new CalculatorEffects(this, parts, this.#latest) };
    const { form } = parts;
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
    return this.#alive.parts;
  }

  get #effects() {
    return this.#alive.effects;
  }

  get #alive() {
    if (!this.#made) throw new Error('This calculator is not on a page yet.');
    return this.#made;
  }

  /** @returns the answer that is shown, with all that it was worked out from */
  get settled() {
    return this.#effects.settled;
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

  /**
   * @param {MachineEvent} event
   * @param {any} [given] what its effect takes
   */
  #send(event, given) {
    const { outcome } = this.#parts;
    const step = next(outcome.state, event);
    if (!step) return;
    outcome.enter(step.state);
    if (step.effect) this.#effects[step.effect](given);
  }

  #open() {
    const { form, example, memory, conditions, outcome, reader } = this.#parts;
    memory.restore();
    conditions.apply();
    // Invented readings have no place in a step: they could be taken for the job's own.
    const hasNone = Object.keys(example).length === 0;
    find(form, '[data-hb-fill-example]').hidden = hasNone || outcome.inStep;
    form.hidden = false;
    this.#send('open');
    onReady(() => this.#send(this.#latest.isAsking ? 'startedAsked' : 'started'));
    if (!reader.isBlank) this.#changed();
  }

  /**
   * Something in the form is not as it was: remember it and ask for the answer.
   *
   * @param {'empty' | 'clear'} [event] what it is where the form holds nothing
   */
  #changed(event = 'empty') {
    const { conditions, memory, reader } = this.#parts;
    this.#effects.settled = null;
    conditions.apply();
    // A reader who asked outright is told, also if the form was emptied before the reply came.
    this.#send(!reader.isBlank || this.#effects.outright ? 'ask' : event);
    memory.save(); // while the worker is already at it
  }

  /** @param {Event} event */
  #typed(event) {
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#left(event), PAUSE_MS);
    this.#effects.rests = false;
    this.#parts.invented.forget([/** @type {HTMLInputElement} */ (event.target).name]);
    this.#changed();
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
    this.#effects.outright = true;
    this.#effects.rests = true;
    this.#parts.refusals.ask();
    this.#send('ask');
  }

  /** @param {CustomEvent<{name: string, value: string, unit: string}>} event from a stopwatch */
  #took({ detail: { name, value, unit } }) {
    this.fill({ [name]: { value, unit } });
  }

  #filledExample() {
    const { form, example, invented, memory, refusals } = this.#parts;
    form.reset();
    refusals.clear();
    this.#effects.outright = false;
    const { values, rows } = controlValues(form, example);
    memory.fill(values, rows);
    invented.remember(values);
    this.#changed();
  }

  #cleared() {
    const { form, invented, memory } = this.#parts;
    form.reset();
    invented.forgetAll();
    this.#effects.outright = false;
    this.#changed('clear');
    memory.forget();
  }

  /**
   * @param {Reply} first the first part of the reply
   * @param {Request} request
   */
  #figured({ answer }, request) {
    if (answer && this.#parts.outcome.stands) this.#send('figures', { answer, request });
  }

  /**
   * @param {Request} request
   * @param {Reply} [reply]
   * @param {unknown} [error] two workers died or took too long over the same readings
   */
  #replied(request, reply, error) {
    if (reply?.answer) this.#send('answer', { answer: reply.answer, request });
    else if (reply?.refused) this.#send('refuse', { refused: reply.refused });
    else this.#send('fail', { message: reply?.failed.message ?? messageOf(error) });
  }
}

/** @param {unknown} error */
const messageOf = (error) => (error instanceof Error ? error.message : String(error));
