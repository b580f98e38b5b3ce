/** A session of some minutes: one question after another, each told at once how it went. */

import { find } from '../lib/find.js';
import { askEngine, newSeed } from './ask-engine.js';
import { showDrawing } from './drawing.js';
import { make } from './elements.js';
import { lines, showReasons, showVerdict } from './feedback.js';
import { moveStage, readProgress, STAGES, templateOf, writeProgress } from './progress.js';
import { showProgress, startProgress } from './progress-view.js';
import { makeField } from './question-field.js';
import { again, pick } from './schedule.js';

/** @typedef {import('./question-field.js').Question} Question */
/** @typedef {import('./schedule.js').Listed} Listed */

const MINUTE_MS = 60_000;
const READ = 'read'; // stands for a topic: every question that shows an instrument to read

export class Session {
  #root;
  #progressRoot;
  /** @type {Listed[]} */ #listed = [];
  /** @type {Map<string, string>} what each slip is, in words */ #slips = new Map();
  /** @type {Listed | null} */ #last = null;
  /** @type {Question | null} */ #question = null;
  /** @type {import('./question-field.js').Field | null} */ #field = null;
  /** @type {{id: string, reply: Promise<any>} | null} asked for while the reader reads */ #ahead =
    null;
  #stage = STAGES.length - 1;
  #count = 0;
  #ends = 0;

  /** @param {HTMLElement} root @param {HTMLElement} progressRoot */
  constructor(root, progressRoot) {
    this.#root = root;
    this.#progressRoot = progressRoot;
    this.#part('form').addEventListener('submit', (event) => {
      event.preventDefault();
      void this.#check();
    });
    this.#part('on').addEventListener('click', () => void this.#next());
    this.#part('again').addEventListener('click', () => void this.#ask(this.#last));
    this.#part('end').addEventListener('click', () => this.#end());
    startProgress(progressRoot, () => this.showProgress());
  }

  /** @param {string} name of a page, as `gas_rate`, that a link asks for */
  chooseTopic(name) {
    const select = this.#topic();
    const isIt = (/** @type {string} */ value) => value === name || value.endsWith(`/${name}`);
    const wanted = [...select.options].find(({ value }) => name && isIt(value));
    if (wanted) select.value = wanted.value;
  }

  /** @param {number} minutes */
  async begin(minutes) {
    this.#ends = Date.now() + minutes * MINUTE_MS;
    this.#count = 0;
    this.#part('start').hidden = true;
    this.#part('run').hidden = false;
    this.#wait('The calculators start. The first question comes in a moment.');
    if (this.#listed.length === 0) {
      const reply = await this.#send({ about: 'list' });
      this.#listed = reply?.practice ?? [];
      this.#slips = new Map(Object.entries(reply?.slips ?? {}));
    }
    await this.#next();
  }

  showProgress() {
    const titles = new Map([...this.#topic().options].map(({ value, text }) => [value, text]));
    const titleOf = (/** @type {string} */ topic) => titles.get(topic) ?? topic;
    showProgress(this.#progressRoot, titleOf, this.#slips);
  }

  /** @param {string} name @returns {HTMLElement} */
  #part(name) {
    return find(this.#root, `[data-hb-practice-${name}]`);
  }

  #topic() {
    return /** @type {HTMLSelectElement} */ (this.#part('topic'));
  }

  /** @param {string} words */
  #wait(words) {
    const box = this.#part('said');
    box.dataset.state = 'waiting';
    box.replaceChildren(make('p', { text: words }));
  }

  /** @param {object} request @returns {Promise<any>} */
  async #send(request) {
    try {
      return await askEngine(request);
    } catch (error) {
      this.#wait(error instanceof Error ? error.message : String(error));
      return null;
    }
  }

  /** @param {Listed[]} listed @returns {Listed[]} those of the topic that was chosen */
  among(listed) {
    const topic = this.#topic().value;
    if (topic === READ) return listed.filter(({ asks }) => asks === READ);
    return topic ? listed.filter((each) => each.topic === topic) : listed;
  }

  #picked() {
    return (
      pick(this.among(this.#listed), readProgress(), { last: this.#last, now: new Date() }) ??
      this.#last
    );
  }

  async #next() {
    if (Date.now() >= this.#ends) return this.#end();
    await this.#ask(this.#picked());
  }

  /** @param {Listed | null} listed */
  async #ask(listed) {
    if (!listed) return this.#end();
    const ahead = this.#ahead?.id === listed.id ? this.#ahead.reply : null;
    this.#ahead = null;
    const reply = await (ahead ?? this.#draw(listed));
    if (!reply) return;
    this.#last = listed;
    this.#count += 1;
    this.#show(reply.practice);
    this.#ahead = this.#askAhead();
  }

  /** @param {Listed} listed */
  #draw(listed) {
    return this.#send({ about: 'question', question: listed.id, seed: newSeed() });
  }

  /** The next question is drawn while this one is read. */
  #askAhead() {
    const listed = this.#picked();
    return listed && listed.id !== this.#last?.id
      ? { id: listed.id, reply: this.#draw(listed) }
      : null;
  }

  /** @param {Question} question */
  #show(question) {
    this.#question = question;
    const template = templateOf(readProgress(), question.id);
    const hasLines = question.worked.working.length > 1;
    this.#stage = hasLines ? template.stage : STAGES.length - 1;
    const minutes = Math.max(1, Math.ceil((this.#ends - Date.now()) / MINUTE_MS));
    const left = `${minutes} ${minutes === 1 ? 'minute' : 'minutes'} left`;
    this.#part('where').textContent = `${question.title} · ${this.#count} · ${left}`;
    this.#part('stem').textContent = question.stem;
    showDrawing(this.#part('drawing'), question.drawing);
    this.#part('said').replaceChildren();
    this.#part('told').replaceChildren();
    this.#part('next').hidden = true;
    const form = /** @type {HTMLFormElement} */ (this.#part('form'));
    form.reset();
    form.hidden = false;
    this.#part('sure').hidden = question.safety !== 'yes';
    this.#root.scrollIntoView({ behavior: 'instant', block: 'start' });
    const check = this.#part('check');
    if (this.#stage === 0) return this.#showWorked(question);
    check.hidden = false;
    this.#field = makeField(this.#part('field'), question);
    if (this.#stage === 1) {
      this.#part('field').prepend(lines(question.worked.working, { lastBlank: true }));
    }
    this.#part('stem').focus({ preventScroll: true });
  }

  /** An example first: the way to the answer, with nothing to type. @param {Question} question */
  #showWorked(question) {
    this.#part('form').hidden = true;
    this.#wait('A worked example first. Next time the last line is yours.');
    const told = /** @type {any} */ ({
      ...question.worked,
      right: true,
      why: question.why,
      read: question.read,
    });
    showReasons(this.#part('told'), told, question);
    const progress = readProgress();
    moveStage(templateOf(progress, question.id), true);
    writeProgress(progress);
    this.#offerNext();
  }

  async #check() {
    const [question, field] = [this.#question, this.#field];
    const given = field?.given();
    if (!question || !field) return;
    if (!given) return this.#wait('Type or choose an answer first. A guess will do.');
    const { id, seed } = question;
    const reply = await this.#send({ about: 'mark', question: id, seed, given });
    const told = reply?.practice;
    if (!told) return;
    if (told.refused) return this.#wait(told.refused);
    this.#tell(question, field, told);
  }

  /**
   * @param {Question} question
   * @param {import('./question-field.js').Field} field
   * @param {import('./feedback.js').Told} told
   */
  #tell(question, field, told) {
    showVerdict(this.#part('said'), told, question, (name) => this.#shape(name));
    field.show(told);
    if (told.drawing) showDrawing(this.#part('drawing'), told.drawing);
    showReasons(this.#part('told'), told, question);
    this.#keep(question, told);
    this.#part('check').hidden = true;
    this.#offerNext();
    this.#part('said').scrollIntoView({ behavior: 'instant', block: 'nearest' });
  }

  #offerNext() {
    this.#part('next').hidden = false;
    this.#part('on').focus({ preventScroll: true });
  }

  /** @param {'right' | 'wrong'} name */
  #shape(name) {
    const template = /** @type {HTMLTemplateElement} */ (this.#part('shapes'));
    const shape = template.content.querySelector(`[data-hb-shape-${name}]`);
    return /** @type {Node} */ (shape?.cloneNode(true));
  }

  /** @param {Question} question @param {import('./feedback.js').Told} told */
  #keep(question, told) {
    const progress = readProgress();
    const template = templateOf(progress, question.id);
    const isAlone = this.#stage === STAGES.length - 1;
    const form = /** @type {HTMLFormElement} */ (this.#part('form'));
    const sure = String(new FormData(form).get('sure') ?? '');
    if (question.worked.working.length > 1) moveStage(template, told.right);
    template.card = again(template.card, { isRight: told.right, isAlone }, new Date());
    template.first = Boolean(told.unsafe && sure === 'sure') || (template.first && !told.right);
    const slips = told.slips ?? [];
    for (const { name, say } of slips) progress.said = { ...progress.said, [name]: say };
    progress.answers.push({
      question: question.id,
      topic: question.topic,
      at: new Date().toISOString(),
      right: told.right,
      alone: isAlone,
      unsafe: Boolean(told.unsafe),
      sure,
      slips: slips.map(({ name }) => name),
    });
    writeProgress(progress);
    this.showProgress();
  }

  #end() {
    this.#part('run').hidden = true;
    this.#part('start').hidden = false;
    this.#ahead = null;
    this.showProgress();
    this.#part('topic').focus({ preventScroll: true });
  }
}
