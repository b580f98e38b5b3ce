/** What a step said of its readings, as the record keeps it. */

import { keptFigure, keptVerdict } from './kept-answer.js';

/** @typedef {import('../protocol/bridge-types.js').StepOutcome} StepOutcome */
/** @typedef {import('./visit-types.js').KeptOutcome} KeptOutcome */

/** @param {{step: string}} outcome */
export const outcomeKey = ({ step }) => `outcome:${step}`;

/** @param {StepOutcome['held_to']} held */
export const heldText = (held) => (held ? `${held.text} · ${held.source}` : '');

/**
 * @param {string} step
 * @param {StepOutcome} outcome
 * @param {{edition: string, at: string}} about
 * @returns {KeptOutcome | null} nothing of a step that waits for a reading
 */
export function keptOutcome(step, outcome, { edition, at }) {
  const { state, reading, label, text, act, held_to: held, figures, verdicts } = outcome;
  if (state === 'waiting') return null;
  return {
    ...{ step, reading, label, edition, at, state, text, act },
    held_to: heldText(held),
    figures: figures.map(keptFigure),
    verdicts: verdicts.map(keptVerdict),
  };
}

/**
 * Whether two say the same, whenever they were kept.
 *
 * @param {KeptOutcome} one
 * @param {KeptOutcome} other
 */
export function sameOutcome(one, other) {
  const said = (
    /** @type {KeptOutcome} */ { step, state, text, held_to, act, figures, verdicts },
  ) => JSON.stringify([step, state, text, held_to, act, figures ?? [], verdicts]);
  return said(one) === said(other);
}

/**
 * Two steps may judge the same readings, as one that lays them side by side at the end. What both say
 * in the same words stands once, with the figures that were worked out; where they differ, both do.
 *
 * @template {Pick<KeptOutcome, 'reading' | 'label' | 'state' | 'text' | 'held_to' | 'figures' | 'verdicts'>} T
 * @param {T[]} outcomes of one appliance or of several
 * @returns {T[]}
 */
export function withoutRepeats(outcomes) {
  const said = (/** @type {T} */ each) => {
    const { reading, label, state, text, held_to, verdicts } = each;
    const owner = 'appliance' in each ? each.appliance : '';
    return JSON.stringify([owner, reading, label, state, text, held_to, verdicts]);
  };
  /** @type {Map<string, T>} */ const first = new Map();
  for (const each of outcomes) {
    const there = first.get(said(each));
    if (!there || (!there.figures?.length && each.figures?.length)) first.set(said(each), each);
  }
  const kept = new Set(first.values());
  return outcomes.filter((each) => kept.has(each));
}
