/**
 * The one element inside `root` that matches; the page was built without it if there is none.
 *
 * @template {HTMLElement} [E=HTMLElement]
 * @param {ParentNode} root
 * @param {string} selector
 * @returns {E}
 */
export function find(root, selector) {
  const found = root.querySelector(selector);
  if (!found) throw new Error(`The page has no ${selector}. Build the site again.`);
  return /** @type {E} */ (found);
}

/**
 * Sets the text of an element, only when it changes: an unchanged text costs no layout, and one that
 * stays the same node costs less than a new one.
 *
 * @param {Element} element
 * @param {string} text
 */
export function setText(element, text) {
  if (element.textContent === text) return;
  const only = element.childNodes.length === 1 ? element.firstChild : null;
  if (only instanceof Text && text) only.data = text;
  else element.textContent = text;
}

/**
 * Hides an element or shows it, only when that changes: a browser styles anew whatever is set.
 *
 * @param {HTMLElement} element
 * @param {boolean} isHidden
 */
export function setHidden(element, isHidden) {
  if (element.hidden !== isHidden) element.hidden = isHidden;
}
