/** The record has a line for what the answers of the visit call for, and for all that was typed. */

import { find, setHidden, setText } from '../lib/find.js';
import { askedFor } from '../visit/asked-for.js';
import { openVisit } from '../visit/open-visit.js';
import { ofOthers } from '../visit/visit-checks.js';
import { linesOf } from './visit-view.js';

/** @param {HTMLElement} root */
export function showAskedLines(root) {
  const asked = /** @type {HTMLDataElement[]} */ ([...root.querySelectorAll('[data-hb-asked]')]);
  const others = ofOthers(asked.map(({ dataset }) => dataset.hbAsked ?? ''));
  const [named, called] = [new Set(), new Set()];
  for (const { value, dataset } of asked) {
    for (const name of value.split(' ')) {
      named.add(name);
      if (!others.has(dataset.hbAsked ?? '')) called.add(name);
    }
  }
  const isAsked = askedFor();
  let away = 0;
  for (const [name, line] of linesOf(root)) {
    // How a check was left has its own reason to be there: as-left.js.
    const isCalled = isAsked(name) && (called.has(name) || !named.has(name));
    const isOut = openVisit.visit !== null && !isCalled && !isTyped(name, line);
    if (line.dataset.hbLeft === undefined) line.hidden = isOut;
    else if (isOut) line.hidden = true;
    away += Number(isOut && line.dataset.hbLeft === undefined);
  }
  const said = find(root, '[data-hb-left-away]');
  setHidden(said, !away);
  const count = away === 1 ? 'One reading has no line.' : `${away} readings have no line.`;
  setText(find(said, '[data-hb-left-away-count]'), count);
}

/**
 * Whether anybody typed there, kept or not yet, or is about to.
 *
 * @param {string} name
 * @param {HTMLElement} line
 */
function isTyped(name, line) {
  if (openVisit.reading(name) || line.contains(document.activeElement)) return true;
  const inputs = [...line.querySelectorAll('input')];
  return inputs.some(({ type, checked, value }) => (type === 'radio' ? checked : value !== ''));
}
