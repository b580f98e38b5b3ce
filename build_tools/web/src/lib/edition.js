import { writtenDay } from './written-day.js';

/**
 * What a page knows of its edition. `assets/handbook/edition.js` sets it, a script so that a page
 * that is opened from a folder has it too. `build_tools/site/offline.py` writes that.
 *
 * @typedef {object} Edition
 * @property {string} name day and state
 * @property {string} day on which it was built
 * @property {number} goodForDays after that many it says that it is old
 * @property {'hosted' | 'folder' | 'draft'} kind draft: an author looks at it
 * @property {number} bytes of all its files
 * @property {{name: string, bytes: number} | null} zip the folder edition that the host offers
 * @property {{day: string, label: string}[]} changes figures that change on a day after `day`
 */

/** @returns {Edition | null} */
export function thisEdition() {
  const given = /** @type {{hbEdition?: Edition}} */ (/** @type {unknown} */ (window));
  return given.hbEdition ?? null;
}

/** @param {number} bytes */
export const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

/** @param {string} name `2026-11-25 abc1234` @returns {string} `25 November 2026 (abc1234)` */
export function editionWords(name) {
  const [day = '', state = ''] = name.split(' ');
  return `${writtenDay(day)} (${state})`;
}
