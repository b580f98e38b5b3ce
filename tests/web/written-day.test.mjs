import assert from 'node:assert/strict';
import { test } from 'node:test';
import { byTime, momentInWords, writtenDay } from '../../build_tools/web/src/lib/written-day.js';

// The words that the browser's own Intl has for Britain are the reference here.
test('a day is written as Intl writes it, in every month', () => {
  const options = { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' };
  const words = new Intl.DateTimeFormat('en-GB', options);
  for (let month = 1; month <= 12; month += 1) {
    const iso = `2026-${String(month).padStart(2, '0')}-0${(month % 9) + 1}`;
    assert.equal(writtenDay(iso), words.format(new Date(iso)));
  }
});

test('a moment is written as Intl writes it', () => {
  const options = {
    ...{ day: 'numeric', month: 'long', year: 'numeric' },
    ...{ hour: '2-digit', minute: '2-digit' },
  };
  for (const at of [new Date(2026, 10, 6, 4, 2), new Date(2027, 0, 31, 23, 59)]) {
    assert.equal(momentInWords(at), new Intl.DateTimeFormat('en-GB', options).format(at));
  }
});

test('what is no day stands as it is', () => {
  for (const text of ['', 'soon', '2026-13-01', '2026-00-10', '26-11-2026']) {
    assert.equal(writtenDay(text), text);
  }
});

test('times are put in order, the early ones first', () => {
  const times = ['2026-11-26T09:00:00Z', '2026-11-25T10:00:00Z', '2026-11-26T09:00:00Z'];
  assert.deepEqual([...times].sort(byTime), [times[1], times[0], times[2]]);
});
