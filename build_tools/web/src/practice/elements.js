/**
 * An element with a text. Text goes in as such, and never as markup.
 *
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {{text?: string, is?: string}} [of] `is`: its class
 * @param {(Node | string)[]} [inside]
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, { text, is } = {}, inside = []) {
  const made = document.createElement(tag);
  if (is) made.className = is;
  if (text !== undefined) made.textContent = text;
  made.append(...inside);
  return made;
}
