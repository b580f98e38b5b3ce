/** The open visit as every page knows it without its database: visit/open-visit.js keeps that up. */

import { FIRST, SHARED } from './appliance-key.js';
import { readLocal } from './local-storage.js';

export const PRESENT_VISIT = 'hb:visit';

/**
 * @typedef {object} PresentVisit
 * @property {string} id
 * @property {string} appliance id of the one that is worked on
 * @property {string} applianceName empty where there is one alone
 * @property {string} name
 * @property {number} readings how many it holds
 */

/** @returns {PresentVisit | null} */
export function presentVisit() {
  try {
    const visit = JSON.parse(readLocal(PRESENT_VISIT) ?? 'null');
    if (typeof visit?.name !== 'string' || typeof visit?.readings !== 'number') return null;
    return { id: '', appliance: FIRST, applianceName: '', ...visit };
  } catch {
    return null;
  }
}

/**
 * Whose a tick or a time at this place is: a procedure that reads nothing of one appliance is gone
 * through once for all.
 *
 * @param {Element} place
 * @returns {string}
 */
export const ownerAt = (place) =>
  place.closest('[data-hb-shared]') ? SHARED : (presentVisit()?.appliance ?? FIRST);

/** @param {Element} place @returns {string} name of the appliance, where it could be taken for another */
export const applianceAt = (place) =>
  place.closest('[data-hb-shared]') ? '' : (presentVisit()?.applianceName ?? '');
