/** Which checks the answers of a visit call for. */

/** @typedef {Record<string, string[]>} Fits answers by question: any one of each will do */
/** @typedef {Record<string, string>} Answers one by question, empty while the reader is not sure */

/**
 * Answers that can't all be true: none of them is taken for sure.
 *
 * @param {Answers} given
 * @param {Fits[]} impossible
 * @returns {{sure: Answers, clashes: boolean[]}} one for each of `impossible`
 */
export function withoutClashes(given, impossible) {
  const sure = { ...given };
  const clashes = impossible.map((fits) =>
    Object.entries(fits).every(([name, fit]) => fit.includes(given[name] ?? '')),
  );
  for (const [place, fits] of impossible.entries()) {
    if (clashes[place]) for (const name of Object.keys(fits)) sure[name] = '';
  }
  return { sure, clashes };
}

/**
 * A question without an answer rules nothing out.
 *
 * @param {Fits} fits
 * @param {Answers} sure
 */
export const isRuledOut = (fits, sure) =>
  Object.keys(fits).some((name) => sure[name] && !fits[name]?.includes(sure[name]));
