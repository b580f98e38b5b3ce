/** An answer as the record keeps it: what was typed, what came out, and what it was held against. */

/** @typedef {import('../protocol/bridge-types.js').Item} Item */
/** @typedef {import('../protocol/bridge-types.js').Settled} Settled */
/** @typedef {import('./visit-types.js').KeptAnswer} KeptAnswer */

/** @param {string | number | null | undefined} value */
const text = (value) => String(value ?? '');

/**
 * @param {Settled} settled
 * @param {{calculator: string, title: string, where: string, edition: string, at: string}} about
 * @returns {KeptAnswer}
 */
export function keptAnswer({ answer, given }, about) {
  return {
    ...about,
    inputs: given.map((each) => ({ label: text(each.label), text: text(each.text) })),
    answers: answer.answers.map(keptFigure),
    verdicts: (answer.verdicts ?? []).map(keptVerdict),
  };
}

/** @param {Item} each @returns {import('./visit-types.js').KeptFigure} */
export const keptFigure = (each) => ({
  label: text(each.label),
  text: text(each.text),
  uncertainty: text(each.uncertainty_text),
});

/** @param {Item} each @returns {import('./visit-types.js').KeptVerdict} */
export const keptVerdict = (each) => ({
  label: text(each.label),
  outcome: text(each.outcome),
  text: text(each.text),
  limit: text(each.limit),
  source: text(each.source),
  edition: text(each.edition),
  provenance: text(each.provenance),
  in_force: text(each.in_force),
});

/**
 * Whether two say the same, whenever they were kept.
 *
 * @param {KeptAnswer} one
 * @param {KeptAnswer} other
 */
export function sameAnswer(one, other) {
  const said = (/** @type {KeptAnswer} */ { calculator, inputs, answers, verdicts }) =>
    JSON.stringify([calculator, inputs, answers, verdicts]);
  return said(one) === said(other);
}

/** @param {KeptAnswer} answer */
export const answerKey = ({ at, calculator }) => `answer:${at}:${calculator}`;
