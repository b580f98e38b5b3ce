import { editionWords, thisEdition } from '../lib/edition.js';
import { today, writtenDay } from '../lib/written-day.js';

/** @typedef {import('../lib/edition.js').Edition} Edition */

const DAY_MS = 86_400_000;
const NAMED = 3; // more figures than this are counted

/** Says on the page when its edition is old, or shows a figure that is no longer in force. */
export function showAge() {
  const place = document.querySelector('[data-hb-age]');
  const edition = thisEdition();
  if (!(place instanceof HTMLElement) || !edition) return;
  const said = ageWords(edition, today());
  place.replaceChildren(
    ...said.map((words) => {
      const line = document.createElement('p');
      line.textContent = words;
      return line;
    }),
  );
  place.hidden = said.length === 0;
}

/**
 * @param {Edition} edition
 * @param {string} day ISO, on this device
 * @returns {string[]} sentences; none when all is well
 */
export function ageWords({ name, day: built, goodForDays, changes }, day) {
  if (day < built) {
    const here = `This device says that today is ${writtenDay(day)}.`;
    return [`${here} This edition was made later, on ${writtenDay(built)}. Set the device's date.`];
  }
  const words = [];
  const changed = changes.filter((each) => each.day <= day);
  if (changed.length) words.push(`${changedWords(changed)} Get the newest edition.`);
  const days = Math.round((Date.parse(day) - Date.parse(built)) / DAY_MS);
  if (days > goodForDays) {
    words.push(`This edition is ${days} days old: ${editionWords(name)}. Get the newest edition.`);
  }
  return words;
}

/** @param {{day: string, label: string}[]} changed @returns {string} */
function changedWords(changed) {
  const named = changed
    .slice(0, NAMED)
    .map(({ day, label }) => `${label} (since ${writtenDay(day)})`);
  const rest = changed.length > NAMED ? ` and ${changed.length - NAMED} more` : '';
  return `These figures have changed since this edition was made: ${named.join(', ')}${rest}.`;
}
