/** An empty table for a class that sits a paper on paper: a row for each seed. */

import { downloadText } from '../lib/download.js';
import { csvCell } from '../visit/csv.js';

const LINE = '\r\n'; // RFC 4180

/**
 * Saves it, and says so.
 *
 * @param {HTMLElement} said
 * @param {{paper: string, seeds: string[], questions: number}} of
 */
export function saveClassTable(said, { paper, seeds, questions }) {
  const numbers = Array.from({ length: questions }, (_, place) => String(place + 1));
  const rows = seeds.map((seed) => [seed, ...numbers.map(() => '')]);
  const lines = [['seed', ...numbers], ...rows].map((row) => row.map(csvCell).join(','));
  const name = `class-${paper}-empty.csv`;
  downloadText(name, lines.join(LINE) + LINE, 'text/csv');
  said.textContent = `Saved: ${name}. Write what each answered into the row of their seed.`;
}
