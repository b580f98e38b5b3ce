/** What every page gets from a script: menu, display, search, ticks, timers, moves without a reload. */

import { startOffline } from '../offline/offline.js';
import { startTimersBar } from '../timing/timers-bar.js';
import { openContents } from './contents.js';
import { startDisplay } from './display.js';
import { startDrawer } from './drawer.js';
import { showAge } from './edition-age.js';
import { showContact, startContact } from './emergency-contact.js';
import { startFarParts } from './far-parts.js';
import { showFolds, startFolds } from './folds.js';
import { startKeyboard } from './keyboard.js';
import { showLargeButton } from './large-button.js';
import { startCalculatorMoves } from './move-calculator.js';
import { startPageMoves } from './page-moves.js';
import { loadScripts } from './page-scripts.js';
import { showParts, startParts } from './parts.js';
import { arriveAtStep, showPlace, startPlace } from './place.js';
import { startPrinting } from './print.js';
import { showOpenVisit, showResume, startResume } from './resume.js';
import { startSearchBox } from './search-box.js';
import { startTheme } from './theme-script.js';
import { showTicks, startTicks } from './ticks.js';
import { showWay, startWays } from './ways.js';

/** Ticks and what hangs on them, as the visit and the appliance that is worked on have them. */
function stepsShown() {
  showTicks();
  showParts();
  showPlace();
}

/** What a page needs each time one is shown: at the start, and after each move. */
function pageShown() {
  showContact();
  showAge(); // an app that stays open for weeks moves from page to page and never loads
  openContents();
  showWay();
  showLargeButton();
  showFolds();
  stepsShown();
  arriveAtStep();
  showResume();
  showOpenVisit();
  loadScripts();
}

function start() {
  startDisplay();
  startDrawer();
  startSearchBox();
  startWays();
  startFolds();
  startTicks();
  document.addEventListener('hb:ticks', stepsShown);
  startParts();
  startPlace();
  startKeyboard();
  startContact();
  startResume();
  startTimersBar();
  startCalculatorMoves();
  startPrinting();
  startPageMoves();
  startOffline();
  document.addEventListener('hb:page', pageShown);
  void startTheme();
  pageShown();
  startFarParts();
}

if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', start);
else start();
