/** The script of the page of appliance cards. */

import { showCardsPage, startCardsPage } from './cards-page.js';

startCardsPage();
document.addEventListener('hb:page', () => void showCardsPage());
void showCardsPage();
