/** Where the reader was, for the pages that lead back there. */

import { readLocal } from './local-storage.js';

export const PLACE = 'hb:place';

/** @typedef {{title: string, step: string, address: string}} Place where the reader was */

/** @returns {Place | null} */
export function placeKept() {
  try {
    const place = JSON.parse(readLocal(PLACE) ?? 'null');
    const whole = ['title', 'step', 'address'].every((key) => typeof place?.[key] === 'string');
    return whole ? place : null;
  } catch {
    return null;
  }
}
