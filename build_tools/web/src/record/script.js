/** The script of the visit record: loaded by the pages that have a place for readings. */

import { keptStill, startKeptStill } from '../lib/kept-still.js';
import { own } from '../own/own-kept.js';
import { openVisit } from '../visit/open-visit.js';
import { showAppliances, startAppliances } from './appliance-switch.js';
import { showAsLeft, startAsLeft } from './as-left.js';
import { showCalculators, startCalculators } from './calculators.js';
import { startUsingCards } from './card-choice.js';
import { showCardWords } from './card-words.js';
import { showCheckPlace } from './check-place.js';
import { heldModules } from './held-modules.js';
import { keepOutcomes, startKeepingOutcomes } from './keep-outcomes.js';
import { showKeptTicks, startKeepingTicks } from './keep-ticks.js';
import { makeFields, startFields } from './kept-fields.js';
import { showLastDay } from './last-day-view.js';
import { showAsked } from './not-asked.js';
import { showOwnStated } from './own-stated.js';
import { showReadingsList } from './readings-list.js';
import { showStatedFigures } from './stated-figures.js';
import { showStepOutcomes, startStepOutcomes } from './step-outcomes.js';
import { showStepsBar, startStepsBar } from './steps-bar.js';
import { showVisitAnswers, startVisitAnswers } from './visit-questions.js';

function shown() {
  showLastDay();
  showAsLeft();
  showAsked();
  showStepsBar();
  showAppliances();
  showKeptTicks();
  showCalculators();
  showReadingsList();
  showStatedFigures();
  void showOwnStated();
  showStepOutcomes();
  showVisitAnswers();
  showCheckPlace();
  void showCardWords();
}

/** @type {any} */ (globalThis).hbHeldModules = heldModules;
startKeptStill();
startFields();
startAsLeft();
startStepsBar();
startCalculators();
startStepOutcomes();
startKeepingOutcomes();
startKeepingTicks();
startAppliances();
startUsingCards();
startVisitAnswers();
own.onChange(() => {
  void showOwnStated();
  showStepOutcomes();
  void keepOutcomes();
});
document.addEventListener('hb:page', shown);
document.addEventListener('hb:visit', () => keptStill(shown));
makeFields();
shown();
void openVisit.start();
