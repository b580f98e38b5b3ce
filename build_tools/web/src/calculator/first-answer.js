import { afterPaint } from '../lib/after-paint.js';

/** Marks the moment at which the first live answer of the page was painted, for the benchmark. */
export async function markFirstAnswer() {
  if (performance.getEntriesByName('hb:first-answer').length) return;
  await afterPaint();
  performance.mark('hb:first-answer');
}
