/** A class is asked for a few papers at a time, and its table runs no formula. */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { batches } from '../../build_tools/web/src/class-results/batches.js';
import { csvOfClass } from '../../build_tools/web/src/class-results/class-csv.js';

test('papers of one seed go together, and no request is long', () => {
  const sat = Array.from({ length: 60 }, (_, place) => ({ seed: `s${place % 3}`, place }));
  const found = batches(sat);
  assert.deepEqual(
    found
      .flat()
      .map(({ place }) => place)
      .sort((one, other) => one - other),
    sat.map(({ place }) => place),
  );
  for (const some of found) {
    assert.ok(some.length <= 25);
    assert.ok(new Set(some.map(({ seed }) => seed)).size <= 2);
  }
  assert.deepEqual(batches([]), []);
});

test('no cell of the table is a formula', () => {
  const slip = { name: 'a', say: '=HYPERLINK("x")', count: 1 };
  const counts = { sat: 1, right: 0, unsafe: 0 };
  const question = {
    ...counts,
    ...{ title: '+x', topic: '@t', number: 0, wrong: 1, left_open: 0, unread: 0 },
    ...{ slips: [slip], instead: [{ say: '-2;=3', count: 1 }] },
  };
  const text = csvOfClass({
    ...{ paper: 'p', title: '=x', percent: 70, no_unsafe: true, sat: 1, reached: 0, unsafe: 0 },
    ...{ few: 5, questions: [question], slips: [slip] },
    topics: [{ ...counts, topic: '@t', title: '@t' }],
    outcomes: [{ ...counts, code: '=2', says: 's', host: '=h' }],
  });
  for (const line of text.replace('\ufeff', '').trim().split('\r\n').slice(1)) {
    for (const cell of line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/)) {
      assert.doesNotMatch(cell, /^"?\s*[=+\-@]/u, cell);
    }
  }
});
