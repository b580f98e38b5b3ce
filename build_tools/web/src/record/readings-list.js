/** The list of what to write down, at the end of a procedure, with what is kept of it. */

import { setText } from '../lib/find.js';
import { openVisit } from '../visit/open-visit.js';
import { whyNot } from '../visit/reading-check.js';
import { wholeText } from '../visit/reading-text.js';

export function showReadingsList() {
  for (const found of document.querySelectorAll('tr[data-hb-kept]')) {
    const line = /** @type {HTMLElement} */ (found);
    const blank = line.querySelector('.hb-blank');
    const reading = openVisit.reading(line.dataset.hbKept ?? '');
    const shown = line.querySelector('[data-hb-kept-value]') ?? document.createElement('b');
    shown.setAttribute('data-hb-kept-value', '');
    const note = reading && whyNot(reading) ? ' (not usable)' : '';
    setText(shown, reading ? wholeText(reading) + note : '');
    blank?.after(shown);
    blank?.toggleAttribute('hidden', Boolean(reading));
  }
}
