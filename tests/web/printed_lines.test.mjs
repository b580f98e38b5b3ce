import assert from 'node:assert/strict';
import { test } from 'node:test';

import { claimedBy, lineOf } from '../../build_tools/web/src/printed-record/lines.js';

/** As `heat_input` of content/record/visit.yaml declares it. */
const ROW = {
  ...{ label: 'Heat input, net', found: [], left: [], between: 'to', figure: 'Net', judged: true },
  ...{ found_in: 'a.found', left_in: 'a.left', claims: [] },
};
const outcome = (step, state, figures = []) => ({
  ...{ kind: 'outcome', step, reading: 'gas_rate.index', state, figures, verdicts: [] },
  ...{ text: 'That cannot be so.', held_to: 'Plate 24 kW · in force' },
});
const heldOf = (...outcomes) => ({
  ...{ readings: new Map(), outcomes, claimed: claimedBy([ROW]) },
});

test('a run that can not be so leaves an open line on paper, and not a silent one', () => {
  const figure = { label: 'Net', text: '23.9 kW', uncertainty: '' };
  const held = heldOf(outcome('a.found', 'within', [figure]), outcome('a.left', 'refused'));
  const line = lineOf(held, ROW);
  assert.deepEqual([line.found.text, line.left.text], ['23.9 kW', 'none']);
  assert.deepEqual([line.state, line.word], ['refused', 'Not usable']);
});

test('nothing that was not asked has a line', () => {
  assert.equal(lineOf(heldOf(), ROW), null);
  assert.equal(lineOf(heldOf(outcome('a.found', 'waiting')), ROW), null);
});
