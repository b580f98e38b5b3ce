import { afterPaint } from '../lib/after-paint.js';
import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { writtenDay } from '../lib/written-day.js';
import { ChartView } from './chart-view.js';
import { SummaryBar } from './summary-bar.js';
import { fillTable, headOf } from './table-view.js';

/** @typedef {import('../protocol/bridge-types.js').Answer} Answer */
/** @typedef {import('../protocol/bridge-types.js').Item} Item */

/** @param {string | number | null | undefined} provenance */
const inWords = (provenance) => String(provenance ?? '').replaceAll('-', ' ');

/** Up to this many verdicts all stand unfolded, as in templates/answer.html.jinja. */
const MOST_UNFOLDED = 2;

/**
 * Number and unit stand in places of their own, so that numbers line up.
 *
 * @param {Item} item
 * @returns {Item}
 */
const slotsOf = ({
  label,
  number_text: number,
  unit_text: unit,
  uncertainty_text: uncertainty,
}) => ({
  ...{ label, number, unit, uncertainty },
});

/** Shows an answer in the markup that the build wrote for the worked example. */
export class AnswerView {
  /** @type {HTMLElement} */ #root;
  /** @type {HTMLElement} */ #result;
  /** @type {Node[]} */ #example;
  /** @type {ChartView} */ #charts;
  /** @type {SummaryBar} */ #summaryBar;
  /** @type {Answer | null} the answer that stands, or is on its way into the page */ #answer =
    null;
  /** @type {boolean | null} more verdicts than stand unfolded, at the last answer */ #many = null;

  /** @param {HTMLElement} root the calculator */
  constructor(root) {
    this.#root = root;
    this.#result = find(root, '[data-hb-result]');
    this.#example = [...this.#result.childNodes].map((node) => node.cloneNode(true));
    this.#charts = new ChartView(this.#result);
    this.#summaryBar = new SummaryBar(root, () => this.focus());
  }

  get #title() {
    return find(this.#result, '[data-hb-result-title]');
  }

  /** Brings the answer before the reader. */
  focus() {
    this.#title.focus({ preventScroll: true });
    (this.#title.parentElement ?? this.#title).scrollIntoView({ block: 'nearest' });
  }

  /** @param {boolean} visible */
  show(visible) {
    this.#result.hidden = !visible;
    if (visible) return;
    this.#answer = null;
    this.#summaryBar.hide();
  }

  /** Puts the worked example back, as the build wrote it. What a reader unfolded in it stays so. */
  showExample() {
    if (!this.#result.hidden && !('hbOwn' in this.#result.dataset)) return;
    this.#charts.forget();
    this.#answer = null;
    this.#result.replaceChildren(...this.#example.map((node) => node.cloneNode(true)));
    delete this.#result.dataset.hbOwn;
    this.#many = null;
    this.#summaryBar.hide();
    this.show(true);
  }

  /** Whether an answer of the reader's own stands here, whole. */
  get stands() {
    return this.#answer !== null;
  }

  /**
   * Shows what was found and what it means: what a reader who types waits for.
   *
   * @param {Answer} answer all of it, or its first part
   */
  showFigures(answer) {
    this.#answers(answer.answers);
    this.#noUncertainty((answer.no_uncertainty_reasons ?? []).join(' '));
    this.#verdicts(answer.verdicts ?? []);
    this.#tables(answer.tables ?? []);
    this.#fill('notes', answer.notes ?? []);
    this.#summaryBar.show(answer);
  }

  /**
   * @param {Answer} answer
   * @param {string} title
   * @param {Item[]} given what it was worked out from
   * @param {boolean} figuresStand whether its figures are shown already
   */
  showAnswer(answer, title, given, figuresStand) {
    const standsAnew = !this.stands;
    this.#answer = answer;
    setText(this.#title, title);
    this.#result.dataset.hbOwn = '';
    if (!figuresStand) this.showFigures(answer);
    if (standsAnew) this.#fillRest(answer, given);
    else void this.#fillRestLater(answer, given);
    this.show(true);
  }

  /**
   * How the answer came about is changed a frame after the answer itself.
   *
   * @param {Answer} answer
   * @param {Item[]} given
   */
  async #fillRestLater(answer, given) {
    await afterPaint();
    if (this.#answer === answer) this.#fillRest(answer, given);
  }

  /**
   * @param {Answer} answer
   * @param {Item[]} given what it was worked out from
   */
  #fillRest(answer, given) {
    this.#charts.show(answer.charts ?? []);
    this.#fill('working', answer.working ?? []);
    this.#fill('given', given);
    this.#fill(
      'cautions',
      (answer.cautions ?? []).map((text) => ({ text })),
    );
    this.#fill('sources', (answer.sources ?? []).map(withProvenance));
  }

  /** The verdicts and the answers in one sentence, for a screen reader. */
  get spoken() {
    const lists = '[data-hb-list="answers"], [data-hb-list="verdicts"]';
    const lines = [...this.#result.querySelectorAll(lists)].flatMap((list) => [...list.children]);
    return lines.map(spokenLine).join('. ');
  }

  /**
   * @param {string} list
   * @param {Item[]} items
   */
  #fill(list, items) {
    fillList(this.#root, list, items);
  }

  /** @param {Item[]} items */
  #answers(items) {
    const parts = items.map(slotsOf);
    fillList(this.#root, 'answers', parts, {
      finish: (node, item) => {
        const name = String(items[parts.indexOf(item)]?.name);
        find(node, '[data-hb-answer]').dataset.hbAnswer = name;
      },
    });
  }

  /** @param {string} text why answers are shown without an uncertainty */
  #noUncertainty(text) {
    const why = find(this.#result, '[data-hb-no-uncertainty]');
    setText(why, text);
    why.hidden = text === '';
  }

  /** @param {import('../protocol/bridge-types.js').Table[]} tables */
  #tables(tables) {
    const heads = tables.map(headOf);
    fillList(this.#root, 'tables', heads, {
      finish: (node, head) => {
        const table = tables[heads.indexOf(head)];
        if (table) fillTable(this.#root, node, table);
      },
    });
  }

  /**
   * What the reader folded or unfolded stays so while the verdict stays what it is.
   *
   * @param {Item[]} verdicts
   */
  #verdicts(verdicts) {
    const many = verdicts.length > MOST_UNFOLDED;
    const isAnew = many !== this.#many;
    this.#many = many;
    fillList(this.#root, 'verdicts', verdicts.map(withProvenance).map(withDay), {
      template: (verdict) => `verdicts-${verdict.outcome}`,
      finish: (node, verdict) => {
        if (isAnew || node.dataset.hbVerdict !== verdict.name) {
          const fold = /** @type {HTMLDetailsElement} */ (find(node, '[data-hb-fold]'));
          fold.open = !many || !isSettled(verdict);
        }
        node.dataset.hbVerdict = String(verdict.name);
        const word = find(node, '[data-hb-word]');
        setText(word, (verdict.limit ? word.dataset.hbLimited : word.dataset.hbUnlimited) ?? '');
      },
    });
  }
}

/**
 * @param {Item} item
 * @returns {Item}
 */
const withProvenance = (item) => ({ ...item, provenance: inWords(item.provenance) });

/**
 * @param {Item} item
 * @returns {Item}
 */
const withDay = (item) => ({ ...item, in_force: writtenDay(String(item.in_force ?? '')) });

/**
 * Met, by a limit that the handbook holds: nothing is left for the reader to do.
 *
 * @param {Item} verdict with its provenance in words
 */
const isSettled = ({ outcome, provenance }) => outcome === 'meets' && provenance !== 'not held';

/** @param {Element} line an answer or a verdict */
function spokenLine(line) {
  const spoken = '[data-hb-slot="label"], [data-hb-answer], [data-hb-word]';
  return [...line.querySelectorAll(spoken)].map((part) => part.textContent?.trim()).join(': ');
}
