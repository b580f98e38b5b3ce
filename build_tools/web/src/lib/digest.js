/**
 * A short text that another text almost surely does not have. Not for secrets: the browser's own
 * digest can't be asked on a page that was opened from a folder.
 *
 * Twice FNV-1a of 32 bits, from two first values.
 *
 * @param {string} text
 * @returns {string}
 */
export const digest = (text) =>
  [0x811c9dc5, 0x050c5d1f].map((first) => fnv1a(text, first).toString(16)).join('-');

/** @param {string} text @param {number} first */
function fnv1a(text, first) {
  let hash = first;
  for (const octet of new TextEncoder().encode(text)) {
    hash = Math.imul(hash ^ octet, 0x01000193) >>> 0;
  }
  return hash;
}
