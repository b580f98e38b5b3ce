/** What is taken of figures that a device or a file holds: figures, and nothing else. */

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { digest } from '../../build_tools/web/src/lib/digest.js';
import { figuresIn } from '../../build_tools/web/src/own/own-figures.js';

const RIGHT = { name: 'a.b', value: '3 mbar', edition: '', at: '2026-11-28T10:00:00.000Z' };
const { value: _value, ...TABLE } = { ...RIGHT, rows: [['0.02 m³', '3 mbar']] };

test('a figure and a table are taken as they are', () => {
  assert.deepEqual(figuresIn([RIGHT, TABLE]), [RIGHT, TABLE]);
});

test('what is no figure is left out', () => {
  const wrong = [
    { ...RIGHT, name: 'A figure' },
    { ...RIGHT, name: '<img>' },
    { ...RIGHT, name: '__proto__' },
    { ...RIGHT, at: undefined },
    { ...RIGHT, value: 3 },
    { ...RIGHT, value: '3'.repeat(201) },
    { ...TABLE, rows: ['0.02 m³'] },
    { ...TABLE, rows: [[0.02, 3]] },
    { ...TABLE, rows: 'none' },
    null,
    '3 mbar',
  ];
  assert.deepEqual(figuresIn(wrong), []);
  for (const value of [null, undefined, 7, 'text', { 'a.b': RIGHT }]) {
    assert.deepEqual(figuresIn(value), []);
  }
});

test('a digest is FNV-1a, and another text has another', () => {
  // The first half by its authors' own test values: "" gives the first value itself, "a" e40c292c,
  // "foobar" bf9cf968.
  assert.equal(digest('').split('-')[0], '811c9dc5');
  assert.equal(digest('a').split('-')[0], 'e40c292c');
  assert.equal(digest('foobar').split('-')[0], 'bf9cf968');
  const texts = Array.from({ length: 20000 }, (_, number) => `gas.rate ${number / 10} mbar`);
  assert.equal(new Set(texts.map(digest)).size, texts.length);
});
