import assert from 'node:assert/strict';
import { test } from 'node:test';

import { conditionIn } from '../../build_tools/web/src/calculator/condition.js';

test('a condition names a choice and the values with which a field counts', () => {
  assert.deepEqual(conditionIn('method=index dial'), {
    choice: 'method',
    values: ['index', 'dial'],
  });
  assert.deepEqual(conditionIn('gas=lpg'), { choice: 'gas', values: ['lpg'] });
});

test('without one a field always counts', () => {
  for (const text of [undefined, '', 'method', 'method=', '=index']) {
    assert.equal(conditionIn(text), null);
  }
});
