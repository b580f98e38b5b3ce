/** What of the reader's own goes with each question to the calculators. */

import { withOwnFigures } from './own-figures.js';
import { withOwnInstruments } from './own-instruments.js';

export const withOwn = () => ({ ...withOwnFigures(), ...withOwnInstruments() });
