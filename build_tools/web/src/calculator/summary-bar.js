import { find, setText } from '../lib/find.js';

/** @typedef {import('../protocol/bridge-types.js').Answer} Answer */

/** What the reader must see first, first. */
const WORST_FIRST = ['does_not_meet', 'cannot_tell', 'meets', 'not_judged'];

/**
 * One line at the foot of a narrow screen while the form fills it: the worst verdict, or the first
 * figure where nothing is judged. It leads to the whole answer, which stands below the form.
 */
export class SummaryBar {
  /** @type {HTMLElement} */ #root;
  /** @type {HTMLElement} */ #line;

  /**
   * @param {HTMLElement} root the calculator
   * @param {() => void} lead brings the whole answer into view
   */
  constructor(root, lead) {
    this.#root = root;
    this.#line = find(root, '[data-hb-summary-bar]');
    this.#line.addEventListener('click', lead);
  }

  hide() {
    this.#line.hidden = true;
  }

  /** @param {Answer} answer that stands in the page */
  show({ answers, verdicts = [] }) {
    const outcome = WORST_FIRST.find((each) => verdicts.some((one) => one.outcome === each));
    const alike = verdicts.filter((one) => one.outcome === outcome);
    const first = alike[0] ?? answers[0];
    const count = verdicts.length > 1 ? `${alike.length} of ${verdicts.length}: ` : '';
    const labels = (outcome ? alike : answers.slice(0, 1)).map(({ label }) => label).join('; ');
    this.#draw(outcome);
    const word = this.#word(first?.name, outcome) || String(first?.text ?? '');
    setText(find(this.#line, '[data-hb-summary-bar-word]'), word);
    setText(find(this.#line, '[data-hb-summary-bar-text]'), count + labels);
    this.#line.hidden = !first;
  }

  /**
   * The word of a verdict as it stands in the answer.
   *
   * @param {unknown} name
   * @param {string | undefined} outcome
   */
  #word(name, outcome) {
    const verdict = `[data-hb-verdict="${CSS.escape(String(name))}"][data-outcome="${outcome}"]`;
    return this.#root.querySelector(`${verdict} [data-hb-word]`)?.textContent ?? '';
  }

  /** @param {string | undefined} outcome its shape, copied from the verdict below */
  #draw(outcome = '') {
    if (this.#line.dataset.outcome === outcome) return;
    this.#line.dataset.outcome = outcome;
    const shape = this.#root.querySelector(`[data-hb-verdict][data-outcome="${outcome}"] svg`);
    find(this.#line, '[data-hb-summary-bar-shape]').replaceChildren(
      ...(shape ? [shape.cloneNode(true)] : []),
    );
  }
}
