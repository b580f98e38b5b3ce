/** The script that shows the steps of a procedure large. A page asks for it once it is wanted. */

import { LargeView } from './large-view.js';
import { sheetOf, stepHere } from './steps.js';

const open = () => void new LargeView({ at: sheetOf, ask: 'Show why' }).open(stepHere());
document.addEventListener('hb:large', open);
open();
