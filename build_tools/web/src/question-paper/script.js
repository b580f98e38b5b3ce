/** The script of the page of papers. */

import { PaperPage } from './paper-page.js';

function showPapers() {
  const root = document.querySelector('[data-hb-papers]');
  if (root instanceof HTMLElement) new PaperPage(root);
}

document.addEventListener('hb:page', showPapers);
showPapers();
