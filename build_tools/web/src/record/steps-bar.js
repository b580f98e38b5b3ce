/** Above the steps of a procedure: into which visit its readings go. */

import { setText } from '../lib/find.js';
import { siteUrl } from '../lib/site-url.js';
import { openVisit } from '../visit/open-visit.js';
import { LOST_WORDS, storageErrorWords } from '../visit/storage-error.js';
import { isEarlierDay, momentWords } from '../visit/visit-name.js';
import { beginVisit } from './begin-visit.js';

const PLACE = '[data-hb-visit-bar]';

/** @returns {HTMLElement | null} made where the page has steps with readings */
function bar() {
  const made = document.querySelector(PLACE);
  if (made) return /** @type {HTMLElement} */ (made);
  const heading = document.querySelector('#steps > h2');
  if (!heading || !document.querySelector('#steps li[data-hb-reading]')) return null;
  const place = document.createElement('p');
  place.className = 'hb-visit-bar';
  place.dataset.hbVisitBar = '';
  const words = document.createElement('span');
  words.className = 'hb-visit-bar__words';
  const link = document.createElement('a');
  link.href = new URL('record/visit.html', siteUrl()).href;
  link.textContent = 'The visit record';
  const fresh = document.createElement('button');
  Object.assign(fresh, {
    type: 'button',
    className: 'hb-button',
    textContent: 'Start a new visit',
  });
  fresh.dataset.hbVisitFresh = '';
  place.append(words, link, fresh);
  heading.after(place);
  return place;
}

export function showStepsBar() {
  if (!openVisit.isRead) return;
  const place = bar();
  const words = place?.querySelector('span');
  const fresh = place?.querySelector('button');
  if (!place || !words || !fresh) return;
  const { visit, storageError } = openVisit;
  const isOld = visit !== null && isEarlierDay(visit.begun);
  place.dataset.state = storageError || openVisit.isLost ? 'error' : isOld ? 'old' : '';
  fresh.hidden = !isOld;
  if (storageError) setText(words, `Readings are not kept. ${storageErrorWords(storageError)}`);
  else if (openVisit.isLost) setText(words, LOST_WORDS);
  else if (!visit) setText(words, 'Readings are kept on this device. The first one opens a visit.');
  else if (isOld) {
    setText(
      words,
      `Readings go into “${visit.name}”, begun on ${momentWords(visit.begun)}. Another job?`,
    );
  } else setText(words, `Readings go into “${visit.name}”.`);
}

export function startStepsBar() {
  document.addEventListener('click', (event) => {
    const button = event.target instanceof Element && event.target.closest('[data-hb-visit-fresh]');
    if (button) void beginVisit('').catch(() => {});
  });
}
