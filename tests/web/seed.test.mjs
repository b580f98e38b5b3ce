import assert from 'node:assert/strict';
import { test } from 'node:test';

import { asSeed } from '../../build_tools/web/src/question-paper/seed.js';

test('words that somebody types for a seed become one', () => {
  assert.equal(asSeed('  Week 9 '), 'week-9');
  assert.equal(asSeed('class_b  monday'), 'class-b-monday');
  assert.equal(asSeed('x9k2mp'), 'x9k2mp');
  assert.equal(asSeed('   '), '');
});
