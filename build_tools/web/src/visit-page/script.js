/** The script of the page of the visit, beside that of all pages with readings. */

import { startChecksPage } from './checks-page.js';
import { startFit } from './fit.js';

startChecksPage();
startFit();
