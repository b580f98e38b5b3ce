/** How answers get to a lecturer: saved, or given to another program of the device. */

import { make } from '../practice/elements.js';
import { saveAnswers, sharedFile } from './answers-file.js';

/** @typedef {import('./answers-file.js').Handed} Handed */

const WORDS =
  'The file holds your answers, the paper and its seed. Your name is not in it. Nothing is sent from here: hand the file over as your lecturer says, by mail or in a shared folder.';

/**
 * @param {Handed} handed
 * @param {HTMLElement[]} [more] acts beside those
 * @returns {HTMLElement[]}
 */
export function handOver(handed, more = []) {
  const said = make('p');
  said.setAttribute('role', 'status');
  const save = act('Save your answers', () => {
    saveAnswers(handed);
    said.textContent = `Saved: ${handed.name}. Look for it among your downloads.`;
  });
  const shared = sharedFile(handed);
  const share = shared && act('Send them on', () => void send(shared, said));
  const acts = [save, ...(share ? [share] : []), ...more];
  return [make('p', { text: WORDS }), make('p', { is: 'hb-practice__acts' }, acts), said];
}

/** @param {string} text @param {() => void} does */
export function act(text, does) {
  const button = make('button', { text, is: 'hb-button' });
  button.type = 'button';
  button.addEventListener('click', does);
  return button;
}

/** @param {File} file @param {HTMLElement} said */
async function send(file, said) {
  try {
    await navigator.share({ files: [file] });
    said.textContent = 'Handed to the program that you chose.';
  } catch (error) {
    const isLeft = error instanceof Error && error.name === 'AbortError';
    said.textContent = isLeft
      ? 'Not sent: you went back.'
      : 'This device does not pass it on. Save your answers, and send the file.';
  }
}
