import { copyTemplate } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';

/** @typedef {import('../protocol/bridge-types.js').Item} Item */
/** @typedef {import('../protocol/bridge-types.js').Table} Table */

const NUMBER = 'hb-table__cell--number';

/**
 * @param {Table} table
 * @returns {Item} what stands over it
 */
export const headOf = (table) => ({ name: table.name, label: table.label });

/**
 * Fills one table of an answer: heads with their units, then cells.
 *
 * @param {ParentNode} root where the templates are
 * @param {HTMLElement} node a copy of the template `tables`
 * @param {Table} table
 */
export function fillTable(root, node, table) {
  node.dataset.hbTable = table.name;
  find(node, '[data-hb-scroll]').setAttribute('aria-label', table.label);
  const heads = find(node, '[data-hb-heads]');
  fillChildren(heads, table.columns, () => copyTemplate(root, 'table-head'), fillHead);
  fillChildren(
    find(node, '[data-hb-body]'),
    table.rows,
    () => document.createElement('tr'),
    (row, cells) => fillChildren(row, cells, () => copyTemplate(root, 'table-cell'), fillCell),
  );
}

/**
 * Makes and fills one child for each item. Those that are there are kept: a cell whose text stays
 * the same costs no layout.
 *
 * @template T
 * @param {HTMLElement} parent
 * @param {T[]} items
 * @param {() => HTMLElement} make
 * @param {(child: HTMLElement, item: T) => void} fill
 */
function fillChildren(parent, items, make, fill) {
  const before = /** @type {HTMLElement[]} */ ([...parent.children]);
  items.forEach((item, at) => {
    const child = before[at] ?? make();
    fill(child, item);
    if (!child.parentElement) parent.append(child);
  });
  for (const extra of before.slice(items.length)) extra.remove();
}

/**
 * @param {HTMLElement} head
 * @param {Table['columns'][number]} column
 */
function fillHead(head, column) {
  setText(find(head, '[data-hb-slot="label"]'), column.label);
  const unit = find(head, '[data-hb-slot="text"]');
  setText(unit, column.text);
  unit.hidden = column.text === '';
}

/**
 * @param {HTMLElement} shown
 * @param {Table['rows'][number][number]} cell
 */
function fillCell(shown, cell) {
  setText(shown, cell.text);
  shown.classList.toggle(NUMBER, cell.value !== null);
}
