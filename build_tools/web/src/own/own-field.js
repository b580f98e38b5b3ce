/** The field of one figure: its value, the edition that it was read in, and what becomes of it. */

import { find, setText } from '../lib/find.js';
import { cellField, shownCell, typedCell } from './own-cell.js';
import { OwnRows } from './own-rows.js';

/** @typedef {import('./own-figures.js').OwnFigure} OwnFigure */
/** @typedef {Pick<OwnFigure, 'value' | 'rows'>} Typed */

/** @type {WeakMap<HTMLElement, OwnField>} */
const known = new WeakMap();

class OneValue {
  /** @type {HTMLInputElement} */ #input;
  #unit = '';

  /** @param {HTMLElement} line @param {string} said id of what is told beside it */
  constructor(line, said) {
    this.#unit = line.dataset.hbUnit ?? '';
    const label = find(line, '[data-hb-own-label]');
    this.#input = cellField(label.textContent ?? '', said);
    const blank = find(line, '[data-hb-own-blank]');
    blank.classList.add('hb-blank--field');
    blank.prepend(this.#input);
  }

  /** @returns {Typed | null} */
  get typed() {
    const value = typedCell(this.#input, this.#unit);
    return value ? { value } : null;
  }

  /** @param {Typed | undefined} figure */
  show(figure) {
    if (document.activeElement === this.#input) return;
    this.#input.value = shownCell(figure?.value ?? '', this.#unit);
  }
}

class OwnField {
  /** @type {HTMLElement} */ #line;
  /** @type {OneValue | OwnRows} */ #entry;
  /** @type {HTMLSelectElement | null} */ #edition = null;
  /** @type {HTMLElement} */ #said;

  /** @param {HTMLElement} line */
  constructor(line) {
    this.#line = line;
    this.#said = document.createElement('span');
    this.#said.className = 'hb-kept';
    this.#said.id = `hb-own-said-${line.dataset.hbOwn}`;
    this.#said.setAttribute('role', 'status');
    const rows = line.querySelector('table');
    this.#entry = rows ? new OwnRows(rows, this.#said.id) : new OneValue(line, this.#said.id);
    const editions = line.querySelector('[data-hb-own-editions]');
    const label = find(line, '[data-hb-own-label]').textContent ?? '';
    if (editions instanceof HTMLElement) this.#edition = choice(editions, label);
    line.append(this.#said);
  }

  /** @param {(typed: Typed | null, edition: string) => void} act */
  onTyped(act) {
    this.#line.addEventListener('change', () => act(this.#entry.typed, this.#edition?.value ?? ''));
  }

  /** @param {OwnFigure | undefined} figure */
  show(figure) {
    this.#entry.show(figure);
    if (this.#edition && figure) choose(this.#edition, figure.edition);
  }

  /** @param {string} state @param {string} text */
  tell(state, text) {
    this.#said.dataset.state = state === 'refused' ? 'error' : state;
    for (const input of this.#line.querySelectorAll('input')) {
      if (state === 'refused') input.setAttribute('aria-invalid', 'true');
      else input.removeAttribute('aria-invalid');
    }
    setText(this.#said, text);
  }
}

/** @param {HTMLElement} place @param {string} of @returns {HTMLSelectElement} */
function choice(place, of) {
  const select = document.createElement('select');
  select.className = 'hb-own__choice';
  select.setAttribute('aria-label', `Edition: ${of}`);
  const editions = /** @type {string[]} */ (JSON.parse(place.dataset.hbOwnEditions ?? '[]'));
  select.append(...editions.map((edition) => new Option(edition, edition)));
  place.replaceChildren('Read in ', select);
  return select;
}

/** An edition that this handbook has forgotten stands there all the same. */
function choose(/** @type {HTMLSelectElement} */ select, /** @type {string} */ edition) {
  const isThere = [...select.options].some(({ value }) => value === edition);
  if (!isThere) select.append(new Option(edition || 'no edition', edition));
  select.value = edition;
}

/** @param {HTMLElement} line @returns {OwnField} */
export function ownField(line) {
  const there = known.get(line) ?? new OwnField(line);
  known.set(line, there);
  return there;
}
