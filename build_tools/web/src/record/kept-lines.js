/** The list of what to write down, at the end of a procedure, with what is kept of it. */

import { setText } from '../find.js';
import { wholeText } from './reading-text.js';
import { record } from './record.js';

export function showKeptLines() {
  for (const found of document.querySelectorAll('tr[data-hb-kept]')) {
    const line = /** @type {HTMLElement} */ (found);
    const blank = line.querySelector('.hb-blank');
    const reading = record.reading(line.dataset.hbKept ?? '');
    const shown = line.querySelector('[data-hb-kept-value]') ?? document.createElement('b');
    shown.setAttribute('data-hb-kept-value', '');
    setText(shown, reading ? wholeText(reading) : '');
    blank?.after(shown);
    blank?.toggleAttribute('hidden', Boolean(reading));
  }
}
