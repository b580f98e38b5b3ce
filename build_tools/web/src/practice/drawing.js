/** The drawing of a question, as the engine made it: an instrument to read, and the same in words. */

import { find } from '../lib/find.js';
import { make } from './elements.js';
import { liveGauge } from './live-gauge.js';

/** @typedef {{svg: string, words: string, live?: import('./live-gauge.js').Live}} Drawing */

/**
 * @param {HTMLElement} place
 * @param {Drawing | undefined} drawing
 */
export function showDrawing(place, drawing) {
  place.hidden = !drawing;
  const sheet = find(place, '[data-hb-practice-sheet]');
  sheet.replaceChildren();
  if (!drawing) return;
  const picture = make('div');
  const show = (/** @type {{svg: string, words: string}} */ shown) => {
    picture.replaceChildren(drawn(shown));
    find(place, '[data-hb-practice-words]').textContent = shown.words;
  };
  sheet.append(picture);
  if (drawing.live) sheet.append(...liveGauge(drawing.live, show));
  else show(drawing);
}

/** @param {{svg: string}} drawing @returns {Node} */
export function drawn({ svg }) {
  // A parser of its own: what is no SVG comes to nothing, and no script in it runs.
  const made = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  return document.importNode(made, true);
}
