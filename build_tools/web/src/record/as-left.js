/** How a check was left is asked for once it was found not to be in order: till then it is not there. */

import { openVisit } from '../visit/open-visit.js';
import { WordChoice } from './word-choice.js';

/** @param {Element | null | undefined} line */
function wordOf(line) {
  const field = line?.querySelector('hb-words');
  return field instanceof WordChoice ? field.value : '';
}

export function showAsLeft() {
  if (!openVisit.isRead) return;
  for (const line of document.querySelectorAll('li[data-hb-left][data-hb-live]')) {
    const isAsked = wordOf(line.previousElementSibling) === line.getAttribute('data-hb-left');
    line.toggleAttribute('hidden', !isAsked && !wordOf(line));
  }
}

export function startAsLeft() {
  document.addEventListener('input', showAsLeft);
}
