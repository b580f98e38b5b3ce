/** In the record, beside each reading: what its step said of it. */

import { find, setText } from '../lib/find.js';
import { withoutRepeats } from '../visit/kept-outcome.js';
import { openVisit } from '../visit/open-visit.js';
import { shapeFor } from './outcome-view.js';
import { linesOf } from './visit-view.js';

/** @typedef {import('../visit/visit-types.js').KeptOutcome} KeptOutcome */

/** @param {HTMLElement} root */
export function showOutcomes(root) {
  const lines = linesOf(root);
  /** @type {Map<string, KeptOutcome[]>} */ const of = new Map();
  const kept = openVisit.entries.flatMap((each) => (each.kind === 'outcome' ? [each] : []));
  for (const each of withoutRepeats(kept)) {
    of.set(each.reading, [...(of.get(each.reading) ?? []), each]);
  }
  for (const [name, line] of lines) showBeside(line, of.get(name) ?? []);
}

/** @param {HTMLElement} line @param {KeptOutcome[]} outcomes */
function showBeside(line, outcomes) {
  const shown = [...line.querySelectorAll('[data-hb-line-outcome]')];
  for (const each of shown.slice(outcomes.length)) each.remove();
  for (const [place, outcome] of outcomes.entries()) {
    const words = shown[place] ?? made(line);
    words.setAttribute('data-state', outcome.state);
    find(words, '[data-hb-shape-of]').replaceChildren(shapeFor(outcome.state));
    setText(find(words, 'b'), outcome.text);
    setText(find(words, '[data-hb-held-to]'), outcome.held_to);
  }
}

/** @param {HTMLElement} line */
function made(line) {
  const words = document.createElement('p');
  words.className = 'hb-line-outcome';
  words.dataset.hbLineOutcome = '';
  const [shape, text, held] = ['span', 'b', 'span'].map((tag) => document.createElement(tag));
  if (!shape || !text || !held) return words;
  shape.dataset.hbShapeOf = '';
  held.dataset.hbHeldTo = '';
  held.className = 'hb-small';
  words.append(shape, text, ' ', held);
  line.append(words);
  return words;
}
