/** Shows what a step answers: what a reading is held to, how it came out, what to do next. */

import { cautionSign } from '../lib/caution-sign.js';
import { find, setHidden, setText } from '../lib/find.js';
import { heldText } from '../visit/kept-outcome.js';
import { strip } from './outcome-strip.js';

/** @typedef {import('../protocol/bridge-types.js').StepOutcome} StepOutcome */

/** A reading that can't be so has the shape of one that is not judged. */
const SHAPE_OF = /** @type {Record<string, string>} */ ({ refused: 'not_judged' });

/**
 * @param {HTMLElement} place with `data-hb-outcome`
 * @param {StepOutcome} outcome
 */
export function showOutcome(place, outcome) {
  const { state, text, act, reason, held_to: held, scale, figures } = outcome;
  const line = place.closest('[data-hb-step]')?.querySelector('[data-hb-held]');
  if (line instanceof HTMLElement) {
    setText(line, heldText(held));
    setHidden(line, !held);
  }
  setHidden(place, !text);
  // A word that calls for no judgement, such as "does not apply", has no answer to keep room for.
  if (!text && place.dataset.hbTyped === 'word') delete place.dataset.hbTyped;
  if (place.dataset.state !== state) place.dataset.state = state;
  if (!text) return;
  fill(place);
  for (const shape of place.querySelectorAll('[data-hb-shape]')) {
    const isIts = shape.getAttribute('data-hb-shape') === (SHAPE_OF[state] ?? state);
    shape.toggleAttribute('hidden', !isIts);
  }
  setText(find(place, '[data-hb-slot="text"]'), text);
  const worked = figures.map((each) =>
    `${each.label} ${each.text} ${each.uncertainty_text ?? ''}`.trim(),
  );
  setText(find(place, '[data-hb-slot="figures"]'), worked.join(' · '));
  setHidden(find(place, '[data-hb-slot="figures"]'), !worked.length);
  showAct(place, act, reason);
  showOwn(place, outcome.own);
  showScale(find(place, '[data-hb-strip]'), scale);
}

/** @param {HTMLElement} place @param {string} act @param {string} reason */
function showAct(place, act, reason) {
  setText(find(place, '[data-hb-slot="act"]'), act);
  setText(find(place, '[data-hb-slot="reason"]'), reason);
  setHidden(find(place, '[data-hb-act-line]'), !act);
}

/**
 * A place that shows nothing yet becomes as high as the answer that is on its way.
 *
 * @param {HTMLElement} place
 * @param {string} act what that will say
 */
export function keepHeight(place, act) {
  fill(place);
  setText(find(place, '[data-hb-slot="text"]'), '');
  setHidden(find(place, '[data-hb-slot="figures"]'), true);
  showAct(place, act, '');
  showScale(find(place, '[data-hb-strip]'), null);
}

/** @param {HTMLElement} place */
function fill(place) {
  if (!place.firstElementChild) place.append(template());
}

/** @param {HTMLElement} box @param {StepOutcome['scale']} scale drawn anew where it is another */
function showScale(box, scale) {
  setHidden(box, !scale);
  const of = scale ? JSON.stringify(scale) : '';
  if ((box.dataset.of ?? '') === of) return;
  box.dataset.of = of;
  box.replaceChildren(...(scale ? [strip(scale)] : []));
}

/**
 * By which of the reader's own instruments it is so. One whose calibration is past has the triangle.
 *
 * @param {HTMLElement} place
 * @param {StepOutcome['own']} own
 */
function showOwn(place, own) {
  const there = place.querySelector('[data-hb-own-instrument]');
  if (!own) return there?.remove();
  const line = there ?? document.createElement('p');
  line.className = 'hb-outcome__own';
  line.setAttribute('data-hb-own-instrument', own.is_past ? 'past' : '');
  line.replaceChildren(...(own.is_past ? [cautionSign()] : []), own.text);
  if (!there) place.append(line);
}

/** @param {string} state @returns {Node} the shape of an outcome */
export function shapeFor(state) {
  return find(template(), `[data-hb-shape="${SHAPE_OF[state] ?? state}"]`);
}

function template() {
  const found = /** @type {HTMLTemplateElement} */ (
    find(document, 'template[data-hb-outcome-template]')
  );
  return /** @type {DocumentFragment} */ (found.content.cloneNode(true));
}
