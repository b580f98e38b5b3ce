/** The page of papers: what is asked for, and which of its parts is shown. */

import { editionWords, thisEdition } from '../lib/edition.js';
import { find } from '../lib/find.js';
import { make } from '../practice/elements.js';
import { handedIn, newSitting } from './answers-file.js';
import { askPapers } from './ask-papers.js';
import { saveClassTable } from './class-table.js';
import { act, handOver } from './hand-over.js';
import { keepHanded, keepSitting, readHanded, readSitting } from './kept-sitting.js';
import { savePlatformFile } from './platform-file.js';
import { showResult } from './result.js';
import { addressOf, asSeed, editionHere, isThisEdition, newSeed, resultsAddress } from './seed.js';
import { classSheet, paperSheet } from './sheet.js';
import { Sitting } from './sitting.js';

/** @typedef {'start' | 'run' | 'result' | 'sheet'} State */
/** @typedef {import('./kept-sitting.js').Kept} Kept */

const MINUTE_MS = 60_000;

export class PaperPage {
  #root;
  #sitting;

  /** @param {HTMLElement} root */
  constructor(root) {
    this.#root = root;
    this.#sitting = new Sitting(root, {
      hand: (paper, kept) => void this.#try(() => this.#mark(paper.id, kept)),
      leave: () => this.#to('start'),
    });
    const start = /** @type {HTMLFormElement} */ (this.#part('start'));
    start.addEventListener('submit', (event) => {
      event.preventDefault();
      const { submitter } = /** @type {SubmitEvent} */ (event);
      const what = /** @type {HTMLButtonElement | null} */ (submitter)?.value ?? 'sit';
      if (what === 'file') return void this.#save();
      if (what === 'table') return void this.#saveTable();
      void this.#try(() => this.#begin(what));
    });
    this.#paper().addEventListener('change', () => this.#tellMinutes());
    this.#part('results').addEventListener('click', () => this.#nameInLink());
    this.#part('close').addEventListener('click', () => this.#to('start'));
    this.#part('print').addEventListener('click', () => window.print());
    this.#readAddress();
    this.#tellMinutes();
    this.#to('start');
  }

  /** @param {string} name @returns {HTMLElement} */
  #part(name) {
    return find(this.#root, `[data-hb-papers-${name}]`);
  }

  #paper() {
    return /** @type {HTMLSelectElement} */ (this.#part('paper'));
  }

  /** @param {string} name */
  #input(name) {
    return /** @type {HTMLInputElement} */ (this.#part(name));
  }

  /** A paper that somebody was sent to, or one that was left before its end. */
  #readAddress() {
    const asked = new URLSearchParams(location.search);
    const kept = readSitting();
    const wanted = asked.get('paper') ?? kept?.paper ?? '';
    if ([...this.#paper().options].some(({ value }) => value === wanted)) {
      this.#paper().value = wanted;
    }
    this.#input('seed').value = asked.get('seed') ?? kept?.seed ?? '';
    const edition = asked.get('edition') ?? '';
    if (!edition || isThisEdition(edition)) return;
    const note = this.#part('edition');
    const here = editionWords(thisEdition()?.name ?? '');
    note.textContent = `This paper was set with another edition, ${edition}. This one is of ${here}: a question may differ.`;
    note.hidden = false;
  }

  #tellMinutes() {
    const option = this.#paper().selectedOptions[0];
    this.#part('minutes').textContent = option?.dataset.hbMinutes ?? '';
  }

  /** @param {State} state */
  #to(state) {
    const isOpening = !this.#root.dataset.state;
    this.#root.dataset.state = state;
    if (state === 'start') this.#showHanded();
    this.#part('start').hidden = state !== 'start';
    this.#part('run').hidden = state !== 'run';
    this.#part('result').hidden = state !== 'result';
    this.#part('sheet').hidden = state !== 'sheet';
    this.#part('sheet-acts').hidden = state !== 'sheet';
    if (isOpening || state === 'run') return;
    this.#root.scrollIntoView({ behavior: 'instant', block: 'start' });
  }

  /** What was handed in last can be saved as long as it is not forgotten. */
  #showHanded() {
    const handed = readHanded();
    const place = this.#part('handed');
    place.hidden = !handed;
    if (!handed) return place.replaceChildren();
    const forget = act('Forget it', () => {
      keepHanded(null);
      this.#showHanded();
    });
    const title = make('b', { text: `Handed in: ${handed.title}` });
    const kept = make('p', { text: 'It is kept on this device alone, until you forget it.' });
    place.replaceChildren(make('p', {}, [title]), kept, ...handOver(handed, [forget]));
  }

  /**
   * Does what waits for the engine. Says that it waits, and what went wrong, with a way on.
   *
   * @param {() => Promise<void>} act
   */
  async #try(act) {
    this.#to('run');
    this.#part('form').hidden = true;
    this.#part('sure').hidden = true;
    this.#part('where').textContent = '';
    const box = this.#part('said');
    box.dataset.state = 'waiting';
    box.replaceChildren(make('p', { text: 'The calculators start. It comes in a moment.' }));
    try {
      await act();
    } catch (error) {
      box.dataset.state = 'refused';
      const words = error instanceof Error ? error.message : String(error);
      const again = make('button', { text: 'Try again', is: 'hb-button' });
      const back = make('button', { text: 'Back', is: 'hb-button' });
      again.type = back.type = 'button';
      again.addEventListener('click', () => void this.#try(act));
      back.addEventListener('click', () => this.#to('start'));
      const acts = make('p', { is: 'hb-practice__acts' }, [again, back]);
      box.replaceChildren(make('p', { text: words }), acts);
    }
  }

  /** The paper that is asked for, with a seed where none was typed. */
  #wanted() {
    const seed = this.#input('seed');
    seed.value = asSeed(seed.value) || newSeed();
    return { paper: this.#paper().value, seed: seed.value };
  }

  /** @param {string} what */
  async #begin(what) {
    const of = this.#wanted();
    if (what.startsWith('class')) return this.#showClass(of, what);
    const paper = await askPapers({ about: what === 'sit' ? 'paper' : what, ...of });
    history.replaceState(history.state, '', addressOf(of));
    if (what !== 'sit') return this.#showSheet(paperSheet(paper));
    const kept = this.#sittingOf(of);
    keepSitting(kept);
    this.#sitting.begin(paper, kept);
  }

  /** Everything else stays as it is: the reader may want a second form. */
  async #save() {
    const { value: form } = /** @type {HTMLSelectElement} */ (this.#part('form-of'));
    await savePlatformFile(this.#part('file'), { ...this.#wanted(), form });
  }

  /** Seeds and columns to fill in for who sits it on paper. Everything else stays as it is. */
  async #saveTable() {
    const said = this.#part('table');
    const { paper, seed } = this.#wanted();
    const count = this.#input('count').value.trim();
    try {
      const { seeds } = await askPapers({ about: 'class', seed, count });
      const papers = await askPapers({ about: 'papers' });
      const { questions } = papers.find((/** @type {{id: string}} */ { id }) => id === paper);
      saveClassTable(said, { paper, seeds, questions });
    } catch (error) {
      said.textContent = error instanceof Error ? error.message : String(error);
    }
  }

  /** The page of results begins with the paper and the seed that stand here. */
  #nameInLink() {
    const link = /** @type {HTMLAnchorElement} */ (this.#part('results'));
    link.href = resultsAddress({
      paper: this.#paper().value,
      seed: asSeed(this.#input('seed').value),
    });
  }

  /** The same paper goes on where it was left. @param {{paper: string, seed: string}} of */
  #sittingOf({ paper, seed }) {
    const kept = readSitting();
    const edition = editionHere();
    if (kept?.paper === paper && kept.seed === seed && isThisEdition(kept.edition)) return kept;
    const minutes = this.#input('time').checked ? Number(this.#part('minutes').textContent) : 0;
    const sitting = newSitting();
    return { paper, seed, edition, sitting, place: 0, began: Date.now(), minutes, given: {} };
  }

  /** @param {{paper: string, seed: string}} of @param {string} what */
  async #showClass({ paper, seed }, what) {
    const count = this.#input('count').value.trim();
    const given = await askPapers({ about: 'class', seed, count });
    if (what !== 'class') return this.#showSheet(await this.#papersOf(paper, given.seeds, what));
    const title = this.#paper().selectedOptions[0]?.text.split(',')[0] ?? '';
    this.#showSheet(classSheet(given, { id: paper, title }));
  }

  /**
   * The paper of each candidate, each from a page of its own on.
   *
   * @param {string} paper
   * @param {string[]} seeds
   * @param {string} what
   */
  async #papersOf(paper, seeds, what) {
    const about = what === 'class_keys' ? 'paper_key' : 'paper';
    const found = [];
    for (const seed of seeds) {
      const words = `Paper ${found.length + 1} of ${seeds.length} is made.`;
      this.#part('said').replaceChildren(make('p', { text: words }));
      const one = paperSheet(await askPapers({ about, paper, seed }));
      found.push(make('div', { is: 'hb-papers__one' }, one));
    }
    return found;
  }

  /** @param {HTMLElement[]} parts */
  #showSheet(parts) {
    this.#part('sheet').replaceChildren(...parts);
    this.#to('sheet');
    this.#part('sheet').focus({ preventScroll: true });
    window.print();
  }

  /** @param {string} paper @param {Kept} kept */
  async #mark(paper, kept) {
    const { seed, given, minutes, began } = kept;
    const result = await askPapers({ about: 'paper_marks', paper, seed, given });
    const handed = handedIn({ ...kept, sitting: kept.sitting ?? newSitting() }, result);
    keepSitting(null);
    keepHanded(handed);
    const took = Math.max(1, Math.round((Date.now() - began) / MINUTE_MS));
    const words = minutes ? `It took ${took} of ${minutes} minutes.` : '';
    this.#to('result');
    showResult(this.#part('result'), result, words, handed, () => {
      this.#input('seed').value = '';
      this.#to('start');
    });
  }
}
