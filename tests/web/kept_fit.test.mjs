import assert from 'node:assert/strict';
import { test } from 'node:test';

import { basisOf, keptFit } from '../../build_tools/web/src/visit/kept-fit.js';
import { wholeVisit } from '../../build_tools/web/src/visit/whole-visit.js';

const [NOW, AHEAD] = ['2026-11-28T10:00:00.000Z', '2027-03-01T10:00:00.000Z'];
const FIT = { kind: 'answer', calculator: 'cross_check', where: 'Checks in order', at: NOW };

/** A reading of a device whose clock was ahead, or of one whose clock is right. */
const reading = (value, at) => ({
  ...{ kind: 'reading', visit: 'v', key: 'reading:a.b', appliance: '1', at },
  ...{ name: 'a.b', label: 'A', value, unit: 'mbar' },
});
const answer = (basis) => ({ ...FIT, visit: 'v', key: 'answer:1', appliance: '1', basis });

test('a clock that is ahead makes no answer too old: the readings are what they were', () => {
  const read = reading('20.0', AHEAD);
  const entries = [read, answer(basisOf([read]))];
  assert.equal(keptFit({ entries }).isOlder, false);
  const { answers } = wholeVisit({ name: 'v', appliances: [] }, entries, () => 'A');
  assert.equal(answers.length, 1);
  assert.equal(JSON.stringify(answers).includes('basis'), false); // a file has no place for it
});

test('a reading that is another makes the answer too old, whatever the clock says', () => {
  const before = answer(basisOf([reading('20.0', AHEAD)]));
  for (const at of [NOW, AHEAD, '2026-01-01T00:00:00.000Z']) {
    assert.equal(keptFit({ entries: [reading('20.1', at), before] }).isOlder, true);
  }
  assert.equal(keptFit({ entries: [before] }).isOlder, true); // it was taken out
});

test('of a file only the clock tells', () => {
  const [early, late] = [reading('20.0', '2026-11-28T09:59:00.000Z'), reading('20.0', AHEAD)];
  assert.equal(keptFit({ entries: [early, answer()] }).isOlder, false);
  assert.equal(keptFit({ entries: [late, answer()] }).isOlder, true);
});
