/** A field for one number with its unit beside it. */

/** @param {string} label @param {string} said id of what is told of it @returns {HTMLInputElement} */
export function cellField(label, said) {
  const input = document.createElement('input');
  const given = { type: 'text', inputMode: 'decimal', autocomplete: 'off' };
  Object.assign(input, given, { className: 'hb-reading-field', maxLength: 60, placeholder: ' ' });
  input.setAttribute('aria-label', label);
  input.setAttribute('aria-describedby', said);
  return input;
}

/**
 * A number alone is in the unit that stands beside the field, and is kept with it: another edition
 * may have another.
 *
 * @param {HTMLInputElement} input
 * @param {string} unit
 */
export function typedCell(input, unit) {
  const text = input.value.trim().replaceAll(/\s+/g, ' ');
  return unit && /^[+-]?[0-9.,]+$/.test(text) ? `${text} ${unit}` : text;
}

/** @param {string} value @param {string} unit */
export const shownCell = (value, unit) =>
  unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
