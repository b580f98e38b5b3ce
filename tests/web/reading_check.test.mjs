import assert from 'node:assert/strict';
import { test } from 'node:test';

import { isOfAnyState, whyNot } from '../../build_tools/web/src/visit/reading-check.js';

const INLET = { name: 'trial.inlet', value: '20', unit: 'mbar' };
const FACTS = {
  readings: { 'trial.inlet': ['mbar', '0', '200'], 'trial.tube': ['mm', null, null, 1] },
  units: { mbar: { kPa: [10, 0], mbar: [1, 0] } },
};

test('where what readings are checked by did not come, none is usable', () => {
  delete globalThis.hbReadingFacts;
  assert.equal(whyNot(INLET), 'It could not be checked. Reload the page.');
});

test('a reading is held to its range in any unit of its kind', () => {
  globalThis.hbReadingFacts = FACTS;
  assert.equal(whyNot(INLET), '');
  assert.equal(whyNot({ ...INLET, unit: 'kPa' }), ''); // 200 mbar: the bound itself
  assert.match(whyNot({ ...INLET, value: '21', unit: 'kPa' }), /between 0 and 200 mbar/);
  assert.match(whyNot({ ...INLET, unit: 'm' }), /can't be in “m”/);
});

test('of what is counted there is no half', () => {
  const readings = { 'trial.elbows': ['', '0', '50', 1, '', 1] };
  globalThis.hbReadingFacts = { ...FACTS, readings };
  const elbows = { name: 'trial.elbows', unit: '' };
  assert.equal(whyNot({ ...elbows, value: '2' }), '');
  assert.equal(whyNot({ ...elbows, value: '2.0' }), '');
  assert.match(whyNot({ ...elbows, value: '0.5' }), /whole number/);
});

test('a word that is chosen is no figure, and nor is a name of every object', () => {
  globalThis.hbReadingFacts = FACTS;
  assert.equal(whyNot({ name: 'trial.flame', value: 'done', unit: '' }), '');
  assert.equal(whyNot({ name: 'constructor', value: 'done', unit: '' }), '');
});

test('what is the same in any state is told from what is taken in one', () => {
  globalThis.hbReadingFacts = FACTS;
  assert.equal(isOfAnyState('trial.tube'), true);
  assert.equal(isOfAnyState('trial.inlet'), false);
  assert.equal(isOfAnyState('trial.unknown'), false);
  delete globalThis.hbReadingFacts;
  assert.equal(isOfAnyState('trial.tube'), false);
});
