/** A paper as a file for a platform that marks it: made by the engine, kept by the reader. */

import { download } from '../lib/download.js';
import { askPapers } from './ask-papers.js';

/**
 * Saves it, and says so beside the button, which keeps the reader's place.
 *
 * @param {HTMLElement} said where it is told how it goes
 * @param {{paper: string, seed: string, form: string}} of
 */
export async function savePlatformFile(said, of) {
  said.textContent = 'The file is being made.';
  try {
    const { name, base64 } = await askPapers({ about: 'paper_file', ...of });
    const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
    const type = name.endsWith('.xml') ? 'text/xml' : 'application/zip';
    download(name, new Blob([bytes], { type }));
    said.textContent = `Saved: ${name}`;
  } catch (error) {
    said.textContent = error instanceof Error ? error.message : String(error);
  }
}
