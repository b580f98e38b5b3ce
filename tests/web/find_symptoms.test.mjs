import assert from 'node:assert/strict';
import { test } from 'node:test';

import { symptomsIn } from '../../build_tools/web/src/search/find-symptoms.js';

const GAS = { say: 'Gas', typed: ['smell gas', 'gas leak'], url: 'stop.html#gas' };
const ILL = { say: 'Ill', typed: ['ill', 'headache'], url: 'stop.html#ill' };
const LIVE = { say: 'Live', typed: ['tingling'], url: 'start.html#live' };
const told = (/** @type {string} */ asked) =>
  symptomsIn(asked, [GAS, ILL, LIVE]).map(({ say }) => say);

test('the words of a symptom count in any order, among others and in any form', () => {
  for (const asked of ['smell gas', 'Gas! I smell it', 'it smells of gas in the loft', 'GAS LEAKS'])
    assert.deepEqual(told(asked), ['Gas'], asked);
});

test('two symptoms are both told', () => {
  assert.deepEqual(told('smell of gas, ill'), ['Gas', 'Ill']);
});

test('a slip of the hand is forgiven in a long word, and a doubled letter in any', () => {
  for (const asked of ['headach', 'hedache', 'headacke', 'heeadache', 'il'])
    assert.deepEqual(told(asked), ['Ill'], asked);
  assert.deepEqual(told('smel of gass'), ['Gas']);
});

test('words that only look alike are no symptom', () => {
  for (const asked of [
    '',
    'gas',
    'small gas meter',
    'fill the boiler',
    'gas rate',
    'single',
    'till',
  ])
    assert.deepEqual(told(asked), [], asked);
});
