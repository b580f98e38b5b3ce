import { copyTemplate } from './fill-list.js';
import { find, setText } from './find.js';

/** @typedef {import('./types.js').Item} Item */
/** @typedef {import('./types.js').Table} Table */

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
  find(node, '[data-hb-heads]').replaceChildren(...table.columns.map((column) => head(root, column)));
  find(node, '[data-hb-body]').replaceChildren(...table.rows.map((cells) => row(root, cells)));
}

/**
 * @param {ParentNode} root
 * @param {Table['columns'][number]} column
 */
function head(root, column) {
  const made = copyTemplate(root, 'table-head');
  setText(find(made, '[data-hb-slot="label"]'), column.label);
  const unit = find(made, '[data-hb-slot="text"]');
  setText(unit, column.text);
  unit.hidden = column.text === '';
  return made;
}

/**
 * @param {ParentNode} root
 * @param {Table['rows'][number]} cells
 */
function row(root, cells) {
  const made = document.createElement('tr');
  made.append(
    ...cells.map((cell) => {
      const shown = copyTemplate(root, 'table-cell');
      setText(shown, cell.text);
      shown.classList.toggle(NUMBER, cell.value !== null);
      return shown;
    }),
  );
  return made;
}
