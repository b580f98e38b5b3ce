// The last day of a report. RIDDOR 2013 regulation 11(2): 14 days of having the information. By the
// calendar: information on 1 March, due by 15 March; February 2028 has 29 days, 2027 has 28.
import assert from 'node:assert/strict';
import test from 'node:test';

import { lastDay } from '../../build_tools/web/src/lib/last-day.js';

test('a period is counted from the day after', () => {
  assert.equal(lastDay('2026-03-01', '14'), '2026-03-15');
  assert.equal(lastDay('2026-12-25', '14'), '2027-01-08');
  assert.equal(lastDay('2027-02-20', '14'), '2027-03-06');
  assert.equal(lastDay('2028-02-20', '14'), '2028-03-05');
  // The clocks go forward on 29 March 2026 and back on 25 October: no day is lost or won.
  assert.equal(lastDay('2026-03-28', '14'), '2026-04-11');
  assert.equal(lastDay('2026-10-24', '14'), '2026-11-07');
});

test('what is no day, and a period that is not held, are not counted', () => {
  for (const from of ['', '1 March', '2026-02-30', '2026-13-01'])
    assert.equal(lastDay(from, '14'), '');
  for (const days of ['', 'fourteen', '-1', '1.5']) assert.equal(lastDay('2026-03-01', days), '');
});
