/** Puts an answer that was given before back into its field. */

/**
 * @param {HTMLElement} place
 * @param {any} given as the field gave it
 */
export function fillField(place, given) {
  if (!given) return;
  if (given.order) return putInOrder(place, given.order);
  if (given.chosen) {
    for (const input of place.querySelectorAll('input')) {
      input.checked = given.chosen.includes(input.value);
    }
    return;
  }
  const input = place.querySelector('input');
  if (input) input.value = given.text ?? '';
  const select = place.querySelector('select');
  if (select && given.unit) select.value = given.unit;
}

/** @param {HTMLElement} place @param {string[]} order */
function putInOrder(place, order) {
  const list = place.querySelector('ol');
  const lines = [...place.querySelectorAll('li')];
  for (const id of order) {
    const line = lines.find(({ dataset }) => dataset.hbId === id);
    if (line) list?.append(line);
  }
}
