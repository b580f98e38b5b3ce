/** The drawing of a question, as the engine made it: an instrument to read, and the same in words. */

import { find } from '../lib/find.js';

/** @typedef {{svg: string, words: string}} Drawing */

/**
 * @param {HTMLElement} place
 * @param {Drawing | undefined} drawing
 */
export function showDrawing(place, drawing) {
  place.hidden = !drawing;
  const sheet = find(place, '[data-hb-practice-sheet]');
  sheet.replaceChildren();
  if (!drawing) return;
  sheet.append(drawn(drawing));
  find(place, '[data-hb-practice-words]').textContent = drawing.words;
}

/** @param {Drawing} drawing @returns {Node} */
export function drawn({ svg }) {
  // A parser of its own: what is no SVG comes to nothing, and no script in it runs.
  const made = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  return document.importNode(made, true);
}
