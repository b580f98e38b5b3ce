/** Whether what was found outside was read again as it is left. No page and no record is asked. */

const AS_FOUND = /(^|[._])found([._]|$)/;

/**
 * What was found outside stays so until it was read as it is left; then that reading counts alone.
 *
 * @param {string} found
 * @param {string[]} all readings of the check
 * @param {Set<string>} judged those with an outcome
 */
export function isReadAgain(found, all, judged) {
  if (!AS_FOUND.test(found)) return false;
  const twin = found.replace(AS_FOUND, '$1left$2');
  if (all.includes(twin)) return judged.has(twin);
  // A run of the meter is read by its volume as found, and by its index as left.
  const like = `${found.replace(/found.*$/, 'left')}_`;
  return [...judged].some((name) => name.startsWith(like));
}
