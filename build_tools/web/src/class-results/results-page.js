/** The page of a class's results: what is chosen, how far it is, and what is shown. */

import { editionWords, thisEdition } from '../lib/edition.js';
import { find } from '../lib/find.js';
import { make } from '../practice/elements.js';
import { asSeed, isThisEdition } from '../question-paper/seed.js';
import { askClass } from './ask-class.js';
import { filesIn, textsOf } from './chosen-files.js';
import { showClass } from './show-class.js';

/** @typedef {import('./chosen-files.js').Chosen} Chosen */

export class ResultsPage {
  #root;
  /** @type {Chosen[]} */ #files = [];
  /** Counts what was asked for: an answer to an older question is none. */
  #asked = 0;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.#root = root;
    this.#part('form').hidden = false;
    this.#part('form').addEventListener('submit', (event) => event.preventDefault());
    const input = /** @type {HTMLInputElement} */ (this.#part('files'));
    input.addEventListener('change', () => {
      const chosen = [...(input.files ?? [])];
      input.value = ''; // the same file can be chosen again
      void this.#add(chosen);
    });
    for (const name of ['paper', 'seed']) {
      this.#part(name).addEventListener('change', () => void this.#count());
    }
    this.#part('stop').addEventListener('click', () => this.#clear('Stopped. Nothing is kept.'));
    this.#takeDrops();
    this.#readAddress();
    // A browser keeps a page that is left, to show it again at once: without what was read.
    const leave = () => {
      if (root.isConnected) this.#clear('');
      else removeEventListener('pagehide', leave);
    };
    addEventListener('pagehide', leave);
  }

  /** @param {string} name @returns {HTMLElement} */
  #part(name) {
    return find(this.#root, `[data-hb-results-${name}]`);
  }

  /** Anywhere on the page: who misses the place would leave the page with the file. */
  #takeDrops() {
    const page = /** @type {HTMLElement} */ (this.#root.closest('.hb-page') ?? this.#root);
    const drop = this.#part('drop');
    page.addEventListener('dragover', (event) => {
      event.preventDefault();
      drop.dataset.over = '';
    });
    page.addEventListener('dragleave', () => delete drop.dataset.over);
    page.addEventListener('drop', (event) => {
      event.preventDefault();
      delete drop.dataset.over;
      const { dataTransfer } = event;
      if (dataTransfer) void this.#take(filesIn(dataTransfer));
    });
  }

  #readAddress() {
    const asked = new URLSearchParams(location.search);
    const select = this.#select();
    const paper = asked.get('paper') ?? '';
    if ([...select.options].some(({ value }) => value === paper)) select.value = paper;
    /** @type {HTMLInputElement} */ (this.#part('seed')).value = asked.get('seed') ?? '';
    const edition = asked.get('edition') ?? '';
    if (!edition || isThisEdition(edition)) return;
    const here = editionWords(thisEdition()?.name ?? '');
    const note = this.#part('edition');
    note.textContent = `This paper was set with another edition, ${edition}. This one is of ${here}. A file that a learner saved is refused if its questions differ. A table can't tell: read it in the edition of the paper.`;
    note.hidden = false;
  }

  #select() {
    return /** @type {HTMLSelectElement} */ (this.#part('paper'));
  }

  /** @param {Promise<File[]>} dropped */
  async #take(dropped) {
    try {
      await this.#add(await dropped);
    } catch {
      this.#say('What was dropped could not be read. Choose the files instead.');
    }
  }

  /** More files come to those that are there. @param {File[]} chosen */
  async #add(chosen) {
    if (chosen.length === 0) return;
    this.#files.push(...(await textsOf(chosen)));
    await this.#count();
  }

  async #count() {
    if (this.#files.length === 0) return;
    const asked = ++this.#asked;
    const isLeft = () => asked !== this.#asked || !this.#root.isConnected;
    const seed = asSeed(/** @type {HTMLInputElement} */ (this.#part('seed')).value);
    const of = { paper: this.#select().value, seed, files: this.#files };
    this.#part('shown').hidden = true;
    this.#part('stop').hidden = false;
    this.#say('The files are read.');
    const tell = (/** @type {number} */ done, /** @type {number} */ all) =>
      this.#say(`${done} of ${all} papers are counted.`);
    try {
      const result = await askClass(of, tell, isLeft);
      if (result) this.#show(result);
    } catch (error) {
      if (isLeft()) return;
      this.#part('stop').hidden = true;
      const again = make('button', { text: 'Try again', is: 'hb-button' });
      again.type = 'button';
      again.addEventListener('click', () => void this.#count());
      this.#say(error instanceof Error ? error.message : String(error), again);
    }
  }

  /** @param {import('./ask-class.js').Result} result */
  #show(result) {
    this.#part('stop').hidden = true;
    const place = this.#part('shown');
    showClass(place, result, this.#files.length, () => this.#clear('Cleared. Nothing is kept.'));
    place.hidden = false;
    this.#say('');
    place.querySelector('h3')?.focus();
  }

  /** @param {string} words */
  #clear(words) {
    this.#asked += 1;
    this.#files = [];
    this.#part('stop').hidden = true;
    this.#part('shown').hidden = true;
    this.#part('shown').replaceChildren();
    this.#say(words);
  }

  /** @param {string} text @param {HTMLElement[]} more */
  #say(text, ...more) {
    const lines = text ? [make('p', { text }), ...more] : more;
    this.#part('said').replaceChildren(...lines);
  }
}
