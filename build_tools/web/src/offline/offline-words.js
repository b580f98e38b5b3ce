import { editionWords, megabytes } from '../lib/edition.js';

/** @typedef {import('../lib/edition.js').Edition} Edition */
/**
 * @typedef {'draft' | 'folder' | 'forgets' | 'plain' | 'blocked' | 'offered' | 'keeping' |
 *   'interrupted' | 'full' | 'kept' | 'newer'} State
 */

/**
 * What the reader is told in each state, and what can be done then.
 *
 * @type {Record<State, (edition: Edition, newer?: string) => {words: string, act?: string}>}
 */
export const OFFLINE = {
  draft: () => ({ words: 'An author’s view. No copy is kept on this device.' }),
  folder: ({ name }) => ({
    words: `This is the folder edition of ${editionWords(name)}. It works without a network.`,
  }),
  forgets: ({ name }) => ({
    words:
      `This is the folder edition of ${editionWords(name)}. It works without a network. ` +
      'This browser keeps nothing for pages from a folder: ticks and readings are gone when you close the page.',
  }),
  plain: ({ zip }) => ({
    words:
      'This address begins with http, so the browser keeps no copy: without a network this handbook is not there. ' +
      (zip
        ? 'To have it without a network, take the folder edition.'
        : 'To have it without a network, ask whoever keeps this handbook for the folder edition.'),
  }),
  blocked: () => ({
    words:
      'This browser does not let the handbook keep a copy: the window is private, or storage is blocked. ' +
      'The handbook works while there is a network.',
  }),
  offered: ({ bytes }) => ({
    words: `This device saves data, so no copy has been fetched. The handbook takes ${megabytes(bytes)}.`,
    act: 'Keep the handbook on this device',
  }),
  keeping: () => ({
    words: 'The handbook is being kept on this device, to work without a network.',
  }),
  interrupted: () => ({
    words:
      'The copy for this device is not complete. What has come is kept. It goes on when there is a network.',
    act: 'Go on now',
  }),
  full: ({ bytes }) => ({
    words:
      `There is no room on this device to keep the handbook. It needs ${megabytes(bytes)}. ` +
      'Delete something, then try again. The handbook works while there is a network.',
    act: 'Try again',
  }),
  kept: ({ name, bytes }) => ({
    words: `The whole handbook is kept on this device: edition ${editionWords(name)}, ${megabytes(bytes)}. It works without a network.`,
  }),
  newer: (_edition, newer = '') => ({
    words: `A newer edition is ready: ${editionWords(newer)}. What you have typed stays.`,
    act: 'Use the newer edition',
  }),
};
