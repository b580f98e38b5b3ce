/** Buttons of a watch or a timer: never one on offer that a glove could hit by mistake. */

import { find } from '../lib/find.js';

/**
 * Shows the buttons of one state and hides those of the others.
 *
 * @param {HTMLElement} root
 * @param {Record<string, readonly string[]>} buttons names of buttons, by state
 * @param {string} state
 */
export function offer(root, buttons, state) {
  for (const name of new Set(Object.values(buttons).flat())) {
    find(root, `[data-hb-${name}]`).hidden = !buttons[state]?.includes(name);
  }
}

/**
 * A button that is pressed and goes leaves the focus with the one that takes its place.
 *
 * @param {HTMLElement} root
 */
export function focusNext(root) {
  const { activeElement } = document;
  if (activeElement instanceof HTMLElement && activeElement.offsetParent) return;
  const shown = [...root.querySelectorAll('button')].find((button) => button.offsetParent);
  shown?.focus();
}
