/** The script of the page of papers, which alone loads it. */

import { PaperPage } from './paper-page.js';

const root = document.querySelector('[data-hb-papers]');
if (root instanceof HTMLElement) new PaperPage(root);
