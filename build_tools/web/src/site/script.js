/** The script of every page: the page's own parts, and the handbook's elements. */

import './start.js';
import { CalculatorElement } from '../calculator/calculator-element.js';
import { RowsElement } from '../calculator/rows-element.js';
import { StopwatchElement } from '../timing/stopwatch-element.js';
import { TimerElement } from '../timing/timer-element.js';
import { ChecksElement } from './checks-element.js';

function define() {
  if (customElements.get('hb-calculator')) return;
  // Rows first: a calculator that opens puts back the rows that the reader had filled.
  customElements.define('hb-rows', RowsElement);
  customElements.define('hb-calculator', CalculatorElement);
  customElements.define('hb-checks', ChecksElement);
  customElements.define('hb-stopwatch', StopwatchElement);
  customElements.define('hb-timer', TimerElement);
}

// An element that is defined while its page is still being read would open without its form.
if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', define);
else define();
