/** A reading of which one of a few words is chosen, such as "done" or "does not apply". */

/**
 * @param {string} id
 * @param {string[]} options
 * @returns {HTMLSelectElement}
 */
export function choice(id, options) {
  const select = document.createElement('select');
  Object.assign(select, { id, className: 'hb-reading-field', autocomplete: 'off' });
  select.append(new Option('', ''), ...options.map((text) => new Option(text, text)));
  return select;
}

/**
 * What the record holds. A word of another edition stays in sight and can be chosen again.
 *
 * @param {HTMLSelectElement} select
 * @param {string} text
 */
export function showChoice(select, text) {
  const isThere = [...select.options].some(({ value }) => value === text);
  if (!isThere) select.append(new Option(text, text));
  select.value = text;
}
