/** In a step only the readings that the answers of the visit call for have a field. */

import { askedFor } from '../visit/asked-for.js';
import { openVisit } from '../visit/open-visit.js';

const SAID = '[data-hb-not-asked]';

/** A field that somebody is in stays until they have left it. */
export function showAsked() {
  if (!openVisit.isRead) return;
  const isAsked = askedFor();
  for (const list of document.querySelectorAll('[data-hb-step] .hb-task__readings')) {
    // How a check was left has its own reason to be there: as-left.js.
    const lines = [...list.querySelectorAll('li[data-hb-reading]:not([data-hb-left])')];
    const out = lines.filter((line) => !isAsked(line.getAttribute('data-hb-reading') ?? ''));
    for (const line of lines) {
      const isOut = out.includes(line) && !line.contains(document.activeElement);
      line.toggleAttribute('hidden', isOut);
    }
    say(list, lines.length > 0 && out.length === lines.length);
  }
}

/** @param {Element} list @param {boolean} isOut nothing of it is asked, and the step says so */
function say(list, isOut) {
  const said = list.parentElement?.querySelector(SAID);
  if (!isOut) said?.remove();
  if (!isOut || said) return;
  const words = document.createElement('p');
  words.className = 'hb-small';
  words.dataset.hbNotAsked = '';
  words.textContent = 'Not asked here: by the answers of the visit it does not apply.';
  list.before(words);
}
