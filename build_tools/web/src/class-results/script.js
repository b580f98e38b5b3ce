/** The script of the page of a class's results. */

import { ResultsPage } from './results-page.js';

function showResults() {
  const root = document.querySelector('[data-hb-results]');
  if (root instanceof HTMLElement) new ResultsPage(root);
}

document.addEventListener('hb:page', showResults);
showResults();
