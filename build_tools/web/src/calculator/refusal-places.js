/**
 * Gives every field of a form the place where its refusal is read, and names that place in the
 * field's description. Only a form that script has opened is ever refused, so pages don't carry them.
 *
 * @param {HTMLFormElement} form
 */
export function addRefusalPlaces(form) {
  for (const box of form.querySelectorAll('[data-hb-field]')) {
    const name = /** @type {HTMLElement} */ (box).dataset.hbField ?? '';
    const set = box.matches('fieldset') ? box : box.querySelector('fieldset');
    const described = set ?? box.querySelector(`[name="${CSS.escape(name)}"]`);
    if (described) describe(described, placeAfter(lastWords(set ?? box), name, described.id));
  }
}

/** @param {Element} box @returns {Element} what a field says before it is typed in */
function lastWords(box) {
  const [label = box, ...notes] = box.querySelectorAll(
    ':scope > :is(.hb-field__label, .hb-field__help[id], .hb-field__default)',
  );
  return notes.at(-1) ?? label;
}

/** @param {Element} words @param {string} name @param {string} id */
function placeAfter(words, name, id) {
  const place = document.createElement('p');
  place.className = 'hb-field__refusal';
  place.id = `${id}-refusal`;
  place.dataset.hbRefusal = name;
  words.after(place);
  return place;
}

/** @param {Element} described @param {Element} place */
function describe(described, place) {
  const before = described.getAttribute('aria-describedby');
  described.setAttribute('aria-describedby', before ? `${before} ${place.id}` : place.id);
}
