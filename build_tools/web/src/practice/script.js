/** The script of the page of practice. */

import { find } from '../lib/find.js';
import { openLargeQuestions } from './large-questions.js';
import { Session } from './session.js';

function showPractice() {
  const root = document.querySelector('[data-hb-practice]');
  const progress = document.querySelector('[data-hb-practice-progress]');
  if (!(root instanceof HTMLElement && progress instanceof HTMLElement)) return;
  const session = new Session(root, progress);
  const start = /** @type {HTMLFormElement} */ (find(root, '[data-hb-practice-start]'));
  start.hidden = false;
  start.addEventListener('submit', (event) => {
    event.preventDefault();
    const { submitter } = /** @type {SubmitEvent} */ (event);
    void session.begin(Number(/** @type {HTMLButtonElement | null} */ (submitter)?.value) || 5);
  });
  session.chooseTopic(new URLSearchParams(location.search).get('topic') ?? '');
  session.showProgress();
  find(start, '[data-hb-large-open]').addEventListener('click', () => {
    void openLargeQuestions((listed) => session.among(listed));
  });
}

document.addEventListener('hb:page', showPractice);
showPractice();
