import assert from 'node:assert/strict';
import { test } from 'node:test';

import { isReadAgain } from '../../build_tools/web/src/visit/read-again.js';

const READINGS = [
  ...['inlet_found_max', 'found_max', 'left_max'].map((name) => `burner.${name}`),
  ...['found_volume', 'left_index'].map((name) => `gas_rate.${name}`),
];
const isDone = (found, ...judged) => isReadAgain(found, READINGS, new Set([found, ...judged]));

test('what was found outside is not met until it was read as left', () => {
  assert.equal(isDone('burner.found_max'), false);
  assert.equal(isDone('burner.found_max', 'burner.left_max'), true);
  assert.equal(isDone('burner.found_max', 'gas_rate.left_index'), false);
  assert.equal(isDone('burner.left_max', 'burner.left_max'), false);
});

test('a supply that was found too low is no better for what was set after it', () => {
  assert.equal(isDone('burner.inlet_found_max', 'burner.left_max', 'gas_rate.left_index'), false);
});

test('a run of the meter by its index is read again by the one by its volume', () => {
  assert.equal(isDone('gas_rate.found_volume'), false);
  assert.equal(isDone('gas_rate.found_volume', 'gas_rate.left_index'), true);
});
