/** Which papers are counted in one go: few enough that a page can tell how far it is. */

/** What takes time is to draw a paper. Papers of one seed are drawn once. */
const SEEDS_AT_ONCE = 2;
const ROWS_AT_ONCE = 25;

/**
 * @param {{seed: string}[]} sat
 * @returns {{seed: string}[][]}
 */
export function batches(sat) {
  const ordered = [...sat].sort((one, other) => (one.seed < other.seed ? -1 : 1));
  /** @type {{seed: string}[][]} */ const found = [];
  for (const row of ordered) {
    const last = found.at(-1);
    const seeds = new Set([...(last ?? []), row].map(({ seed }) => seed));
    if (last && last.length < ROWS_AT_ONCE && seeds.size <= SEEDS_AT_ONCE) last.push(row);
    else found.push([row]);
  }
  return found;
}
