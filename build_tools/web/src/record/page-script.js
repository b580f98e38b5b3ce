/** The script of the record's own page, beside that of all pages with readings. */

import { startPage } from './record-page.js';
import { startRecordPrint } from './record-print.js';

startPage();
startRecordPrint();
