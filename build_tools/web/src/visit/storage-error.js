/** Why something was not kept, in words for the reader. */

/** @typedef {import('./visit-types.js').StorageError} StorageError */

/** @type {Record<StorageError, string>} */
const WORDS = {
  refused:
    'Not kept: the window is private, or this browser blocks storage. It stands here until you leave the page. Write it on paper too.',
  folder:
    'Not kept: this browser keeps no record for pages from a folder. It stands here until you leave the page. Write it on paper, or open the folder in Chrome or Edge.',
  apart:
    'Not kept: in Firefox the pages of a folder share no record. It stands here until you leave the page. Type it on the page “The visit record”, or open the folder in Chrome or Edge.',
  full: 'Not kept: there is no room left on this device. What was kept before is still there. Delete something, then type it again.',
  gone: 'Not kept: this visit was deleted in another window. Type it again, and it goes into a new visit.',
  removed:
    'Not kept: this appliance was taken out of the visit in another window. Choose an appliance, then type it again.',
  newer:
    'Not kept: the record on this device is of a newer edition of this handbook. Nothing of it was lost. Reload the page, or get the newest edition.',
  failed: 'Not kept: the browser could not write it. Reload the page, then type it again.',
};

/** A later start could not keep it either. */
/** @type {Set<StorageError>} */
export const NEVER_KEPT = new Set(
  /** @type {const} */ (['refused', 'folder', 'apart', 'gone', 'removed']),
);

/** @param {StorageError} storageError */
export const storageErrorWords = (storageError) => WORDS[storageError];

/** It was kept, and is not there any more. */
export const LOST_WORDS =
  'Kept no longer: the record of this device was deleted, by the browser or in another window. It stands here until you leave the page. Type it again, and it goes into a new visit.';

/** The visit that something was to be kept in is not there. */
export class VisitGone extends Error {
  name = 'VisitGone';
}

/** The appliance that something was to be kept for is not in the visit. */
export class ApplianceGone extends Error {
  name = 'ApplianceGone';
}

/** The browser gives no place to keep anything. */
export class NoStorage extends Error {
  name = 'NoStorage';
}

/** The page was left meanwhile: the next page does it, or this one when it comes back. */
export class PageLeft extends Error {
  name = 'PageLeft';
}

/** What this page keeps, no other page could read. */
export class KeptApart extends Error {
  name = 'KeptApart';
}

/**
 * @param {unknown} error
 * @returns {StorageError}
 */
export function storageErrorOf(error) {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  if (name === 'VisitGone') return 'gone';
  if (name === 'ApplianceGone') return 'removed';
  if (name === 'KeptApart') return 'apart';
  if (name === 'QuotaExceededError') return 'full';
  if (name === 'VersionError') return 'newer';
  const refused = ['NoStorage', 'SecurityError', 'InvalidStateError', 'UnknownError'];
  if (!refused.includes(name)) return 'failed';
  return location.protocol === 'file:' ? 'folder' : 'refused';
}
