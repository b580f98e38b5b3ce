/** The script of the page of what a reader keeps for every visit. */

import { showOwnPage, startOwnPage } from './own-page.js';

startOwnPage();
document.addEventListener('hb:page', showOwnPage);
showOwnPage();
