/** What every page gets from a script: menu, display, search, ticks, moves without a reload. */

import { startBorrowing } from './borrow.js';
import { openContents } from './contents.js';
import { startMenu } from './menu.js';
import { startMoving } from './move.js';
import { startScheme } from './scheme.js';
import { startSearch } from './search.js';
import { showTicks, startTicks } from './ticks.js';

/** What a page needs each time one is shown: at the start, and after each move. */
function pageShown() {
  openContents();
  showTicks();
}

function start() {
  startScheme();
  startMenu();
  startSearch();
  startTicks();
  startBorrowing();
  startMoving();
  document.addEventListener('hb:page', pageShown);
  pageShown();
}

if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', start);
else start();
