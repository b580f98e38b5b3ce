/** One question after another. Nothing is said to an answer until the paper is handed in. */

import { find } from '../lib/find.js';
import { showDrawing } from '../practice/drawing.js';
import { make } from '../practice/elements.js';
import { makeField } from '../practice/question-field.js';
import { fillField } from './fill-field.js';
import { keepSitting } from './kept-sitting.js';

/** @typedef {import('./ask-papers.js').Paper} Paper */
/** @typedef {import('./kept-sitting.js').Kept} Kept */

const MINUTE_MS = 60_000;
const MARKED_HERE =
  'It is marked here, and sent to nobody. For a class, save your answers after that.';

export class Sitting {
  #root;
  #done;
  /** @type {Paper | null} */ #paper = null;
  /** @type {Kept | null} */ #kept = null;
  /** @type {import('../practice/question-field.js').Field | null} */ #field = null;
  #isTouched = false;
  #clock = 0;

  /**
   * @param {HTMLElement} root
   * @param {{hand: (paper: Paper, kept: Kept) => void, leave: () => void}} done
   */
  constructor(root, done) {
    this.#root = root;
    this.#done = done;
    const act = (/** @type {string} */ name, /** @type {() => void} */ does) =>
      this.#part(name).addEventListener('click', does);
    this.#part('form').addEventListener('submit', (event) => {
      event.preventDefault();
      this.#move(1);
    });
    // An order that nobody has touched is no answer.
    for (const event of ['input', 'click']) {
      this.#part('field').addEventListener(event, () => {
        this.#isTouched = true;
      });
    }
    act('back', () => this.#move(-1));
    act('hand', () => this.#ask());
    act('spare', () => this.#show());
    act('now', () => this.#hand());
    act('leave', () => this.#leave());
  }

  /** @param {Paper} paper @param {Kept} kept */
  begin(paper, kept) {
    this.#paper = paper;
    this.#kept = kept;
    this.#clock = window.setInterval(() => this.#tick(), MINUTE_MS / 6);
    this.#show();
  }

  /** A reader may have moved to another page. */
  #tick() {
    if (this.#root.isConnected) this.#tellWhere();
    else this.#stop();
  }

  /** @param {string} name @returns {HTMLElement} */
  #part(name) {
    return find(this.#root, `[data-hb-papers-${name}]`);
  }

  #now() {
    const [paper, kept] = [this.#paper, this.#kept];
    if (!paper || !kept) throw new Error('No paper is being sat.');
    const question = paper.asked[kept.place];
    if (!question) throw new Error('The paper has no such question.');
    return { paper, kept, question };
  }

  #show() {
    const { paper, kept, question } = this.#now();
    this.#part('sure').hidden = true;
    this.#part('said').replaceChildren();
    this.#part('form').hidden = false;
    this.#part('stem').textContent = question.stem;
    const sheet = find(this.#root, '[data-hb-practice-drawing]');
    showDrawing(sheet, question.drawing);
    const place = this.#part('field');
    this.#field = makeField(place, question);
    fillField(place, kept.given[question.id]);
    this.#isTouched = question.id in kept.given;
    this.#part('back').hidden = kept.place === 0;
    const isLast = kept.place === paper.asked.length - 1;
    this.#part('next').textContent = isLast ? 'To the end' : 'Next';
    this.#tellWhere();
    this.#listNumbers();
    this.#root.scrollIntoView({ behavior: 'instant', block: 'start' });
    this.#part('stem').focus({ preventScroll: true });
  }

  #tellWhere() {
    const { paper, kept, question } = this.#now();
    const of = `${question.of} ${question.of === 1 ? 'mark' : 'marks'}`;
    const words = [`${kept.place + 1} of ${paper.asked.length}`, of];
    if (kept.minutes) words.push(timeWords(kept));
    this.#part('where').textContent = `${paper.title} · ${words.join(' · ')}`;
  }

  #keep() {
    const { kept, question } = this.#now();
    const given = this.#isTouched ? this.#field?.given() : null;
    if (given) kept.given[question.id] = given;
    else delete kept.given[question.id];
    keepSitting(kept);
  }

  /** @param {number} by */
  #move(by) {
    this.#keep();
    const { paper, kept } = this.#now();
    if (kept.place + by >= paper.asked.length) return this.#ask();
    this.#goTo(Math.max(0, kept.place + by));
  }

  /** @param {number} place */
  #goTo(place) {
    const { kept } = this.#now();
    kept.place = place;
    keepSitting(kept);
    this.#show();
  }

  #listNumbers() {
    const { paper, kept } = this.#now();
    const lines = paper.asked.map(({ id }, place) => {
      const isAnswered = id in kept.given;
      const button = make('button', { text: String(place + 1), is: 'hb-button' });
      button.type = 'button';
      button.ariaLabel = `Question ${place + 1}, ${isAnswered ? 'answered' : 'not answered'}`;
      if (place === kept.place) button.ariaCurrent = 'step';
      button.addEventListener('click', () => {
        this.#keep();
        this.#goTo(place);
      });
      const line = make('li', {}, [button]);
      line.toggleAttribute('data-answered', isAnswered);
      return line;
    });
    this.#part('numbers').replaceChildren(...lines);
  }

  /** Before it is handed in, what is still open is named. */
  #ask() {
    this.#keep();
    const { paper, kept } = this.#now();
    const open = paper.asked.flatMap(({ id }, place) => (id in kept.given ? [] : [place + 1]));
    const words = open.length > 0 ? `Not answered: ${open.join(', ')}.` : 'All are answered.';
    this.#part('form').hidden = true;
    this.#part('sure').hidden = false;
    const box = this.#part('said');
    box.dataset.state = 'waiting';
    box.replaceChildren(
      make('p', { text: `${words} Once it is in, you can't change it.` }),
      make('p', { text: MARKED_HERE }),
    );
    this.#part(open.length > 0 ? 'spare' : 'now').focus();
  }

  #hand() {
    const { paper, kept } = this.#now();
    this.#stop();
    this.#done.hand(paper, kept);
  }

  /** It stays on the device, and goes on where it was. */
  #leave() {
    this.#keep();
    this.#stop();
    this.#done.leave();
  }

  #stop() {
    window.clearInterval(this.#clock);
  }
}

/** @param {Kept} kept */
function timeWords({ began, minutes }) {
  const left = Math.ceil(minutes - (Date.now() - began) / MINUTE_MS);
  if (left > 0) return `${left} ${left === 1 ? 'minute' : 'minutes'} left`;
  return 'time is up: hand it in, or go on';
}
