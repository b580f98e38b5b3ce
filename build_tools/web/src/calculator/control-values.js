/** @typedef {import('../protocol/bridge-types.js').Cell} Cell */
/** @typedef {import('../protocol/bridge-types.js').Given} Given */

/**
 * The values of a form's controls, by name, that stand for the inputs of a request. A unit that
 * the form does not offer goes into the text: "2 min".
 *
 * @param {HTMLFormElement} form
 * @param {Record<string, Given>} given
 * @returns {{values: Record<string, string>, rows: Record<string, number>}}
 */
export function controlValues(form, given) {
  /** @type {Record<string, string>} */
  const values = {};
  /** @type {Record<string, number>} */
  const rows = {};
  for (const [name, input] of Object.entries(given)) {
    if ('rows' in input) {
      rows[name] = input.rows.length;
      input.rows.forEach((row, number) => {
        for (const [column, cell] of Object.entries(row)) {
          const place = `${name}[${number}].${column}`;
          const selector = `hb-rows[data-hb-field="${name}"]`;
          Object.assign(values, enter(form.querySelector(selector), column, place, cell));
        }
      });
    } else {
      const field = form.querySelector(`[data-hb-field="${name}"]`);
      Object.assign(values, enter(field, name, name, input));
    }
  }
  return { values, rows };
}

/** "122 s": a number and what follows it. */
const WITH_UNIT = /^(\S+)\s+(.+)$/;

/**
 * @param {Element | null} field
 * @param {string} column the input, or the column of a table of rows
 * @param {string} place the name of the control
 * @param {Cell} cell
 * @returns {Record<string, string>}
 */
function enter(field, column, place, cell) {
  const [, number = cell.value, written] = WITH_UNIT.exec(cell.value) ?? [];
  const unit = cell.unit ?? written;
  if (!unit) return { [place]: cell.value };
  const value = cell.unit ? cell.value : number;
  const owner = /** @type {HTMLElement | null} */ (templateCell(field, column) ?? field);
  /** @type {HTMLSelectElement | null | undefined} */
  const offered = owner?.querySelector('select[data-hb-units]');
  const option = [...(offered?.options ?? [])].find(
    (one) => one.value === unit || one.text === unit,
  );
  if (option) return { [place]: value, [`${place}.unit`]: option.value };
  const fixed = owner?.dataset.hbUnit === unit || owner?.dataset.hbUnitText === unit;
  return { [place]: fixed ? value : `${value} ${unit}` };
}

/**
 * @param {Element | null} table
 * @param {string} column
 */
function templateCell(table, column) {
  const template = table?.querySelector('template');
  return template?.content.querySelector(`[data-hb-cell="${column}"]`) ?? null;
}
