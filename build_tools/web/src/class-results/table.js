/** A table of counts. On a phone its rows are cards, and each says by its role what it is. */

import { make } from '../practice/elements.js';

/** @typedef {string | HTMLElement} Cell */

/**
 * @param {string} title
 * @param {string[]} heads
 * @param {Cell[][]} rows the first cell of each is its name
 * @param {string} [kind] `wide`: of more columns than a phone has room for
 */
export function table(title, heads, rows, kind) {
  const is = ['hb-results__table', kind && `hb-results__table--${kind}`].filter(Boolean).join(' ');
  const made = make('table', { is });
  const caption = make('caption', { text: title });
  const head = role(make('tr', {}, heads.map(headCell)), 'row');
  const body = make(
    'tbody',
    {},
    rows.map((cells) => rowOf(cells, heads)),
  );
  made.append(caption, role(make('thead', {}, [head]), 'rowgroup'), role(body, 'rowgroup'));
  return role(made, 'table');
}

/** @param {string} text @param {number} place */
function headCell(text, place) {
  const cell = make('th', { text, is: isNumber(place, text) ? 'hb-results__number' : '' });
  cell.scope = 'col';
  return role(cell, 'columnheader');
}

/** @param {Cell[]} cells @param {string[]} heads */
function rowOf(cells, heads) {
  const made = cells.map((cell, place) => {
    const text = heads[place] ?? '';
    if (place === 0) {
      const name = make('th', {}, [cell]);
      name.scope = 'row';
      return role(name, 'rowheader');
    }
    const one = make(
      'td',
      { is: isNumber(place, text) ? 'hb-results__number' : 'hb-results__slips' },
      [cell],
    );
    if (isNumber(place, text)) one.dataset.hbSays = text;
    one.toggleAttribute('data-hb-none', cell === '0' || cell === '');
    return role(one, 'cell');
  });
  return role(make('tr', {}, made), 'row');
}

/** Words stand in the first column, and in that of what went wrong. @param {number} place @param {string} head */
const isNumber = (place, head) => place > 0 && !head.startsWith('What');

/**
 * @template {HTMLElement} E
 * @param {E} element
 * @param {string} name
 */
function role(element, name) {
  element.setAttribute('role', name);
  return element;
}

/** @param {number} share that is right: the numbers beside it say so too */
export function barOf(share) {
  const inner = make('span');
  inner.style.inlineSize = `${Math.round(share * 100)}%`;
  const bar = make('span', { is: 'hb-results__bar' }, [inner]);
  bar.ariaHidden = 'true';
  return bar;
}
