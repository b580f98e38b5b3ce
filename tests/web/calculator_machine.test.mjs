import assert from 'node:assert/strict';
import { test } from 'node:test';

import { next } from '../../build_tools/web/src/calculator/calculator-machine.js';

const EVENTS = [
  ...['open', 'started', 'startedAsked', 'ask', 'empty', 'clear'],
  ...['restart', 'figures', 'answer', 'refuse', 'fail'],
];

/**
 * Every event in every state, written by hand from what a reader is to see: the state after it
 * and what is done on the way; a dash where nothing changes. The columns are EVENTS.
 */
const EXPECTED = {
  // As the build wrote the page. Only coming alive leads out of it.
  example: 'starting+open - - - - - - - - - -',
  // Words for "working" come once the calculators have started. A worker that is lost while it
  // starts is no news, and no answer stands whose figures could be replaced.
  starting:
    '- ready working starting+question starting+example starting+example ' +
    '- - answered+answer refused+refusals stopped+reason',
  // Nothing was asked: what comes is the reply to a question that was taken back.
  ready: '- - - working+question - ready+example - - - - -',
  working:
    '- - - working+question ready+example ready+example ' +
    'working+wait answered+figures answered+answer refused+refusals stopped+reason',
  // Figures first, the whole answer after them.
  answered:
    '- - - working+question ready+example ready+example ' +
    '- answered+figures answered+answer refused+refusals stopped+reason',
  refused:
    '- - - working+question ready+example ready+example ' +
    '- - answered+answer refused+refusals stopped+reason',
  // The calculators may start after all: the reader then asks again.
  stopped:
    '- - - working+question ready+example ready+example ' +
    '- - answered+answer refused+refusals stopped+reason',
};

/** @param {import('../../build_tools/web/src/calculator/calculator-machine.js').Step} [step] */
const written = (step) => (step ? [step.state, step.effect].filter(Boolean).join('+') : '-');

for (const [state, row] of Object.entries(EXPECTED)) {
  const steps = row.split(' ');
  test(`from "${state}" each event leads where it should`, () => {
    assert.equal(steps.length, EVENTS.length);
    const found = Object.fromEntries(EVENTS.map((event) => [event, written(next(state, event))]));
    assert.deepEqual(found, Object.fromEntries(EVENTS.map((event, at) => [event, steps[at]])));
  });
}

test('no state but those of data-state can be reached, and each of them can', () => {
  const reached = new Set(['example']);
  for (const state of reached) {
    for (const event of EVENTS) {
      const step = next(state, event);
      if (step) reached.add(step.state);
    }
  }
  assert.deepEqual([...reached].sort(), Object.keys(EXPECTED).sort());
});
