/**
 * What somebody types who ought to stop, and where they are told to begin.
 *
 * @typedef {{say: string, typed: string[], url: string}} Symptom
 */

const SHORT = 3; // letters of a word that counts only as it stands: "ill" is no part of "fill"
const LONG = 6; // letters of a word in which one may be wrong: "smell" and "small" are two words

/**
 * The symptoms of danger in what was typed. Each word of one must be there, in whatever order. It
 * errs towards "stop": whoever typed the name of a test finds that below.
 *
 * @param {string} asked
 * @param {Symptom[]} symptoms
 * @returns {Symptom[]}
 */
export function symptomsIn(asked, symptoms) {
  const typed = words(asked);
  const says = (/** @type {string} */ phrase) =>
    words(phrase).every((meant) => typed.some((word) => isMeant(word, meant)));
  return symptoms.filter((symptom) => symptom.typed.some(says));
}

/** @param {string} text @returns {string[]} letters that are doubled stand once: a frequent slip */
function words(text) {
  const found = text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
  return found.map((word) => word.replace(/(.)\1+/gu, '$1'));
}

/** @param {string} word @param {string} meant */
function isMeant(word, meant) {
  if (word === meant) return true;
  if (meant.length <= SHORT) return false;
  return word.startsWith(meant) || (meant.length >= LONG && isASlip(word, meant));
}

/**
 * Whether two words differ by one letter that is wrong, missing or too many, and not by their first.
 *
 * @param {string} word
 * @param {string} meant
 */
function isASlip(word, meant) {
  if (word[0] !== meant[0] || Math.abs(word.length - meant.length) > 1) return false;
  let same = 0;
  while (word[same] === meant[same]) same += 1;
  const rest = (/** @type {string} */ each, /** @type {number} */ from) => each.slice(from);
  return (
    rest(word, same + 1) === rest(meant, same + 1) ||
    rest(word, same) === rest(meant, same + 1) ||
    rest(word, same + 1) === rest(meant, same)
  );
}
