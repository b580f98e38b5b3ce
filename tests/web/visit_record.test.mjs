import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

import { csvCell, csvOf } from '../../build_tools/web/src/record/csv.js';
import { fieldText, typedReading } from '../../build_tools/web/src/record/reading-text.js';
import { readVisits } from '../../build_tools/web/src/record/read-file.js';

const file = (name) => readFileSync(new URL(`../visits/${name}`, import.meta.url), 'utf8');
const said = ({ where, found, expected }) => `${where}: found ${found}; expected ${expected}`;

/** The whole file with one value put in, or taken out. */
function changed(at, put) {
  const value = JSON.parse(file('whole.json'));
  const owner = at.slice(0, -1).reduce((part, key) => part[key], value);
  if (put === undefined) delete owner[at.at(-1)];
  else owner[at.at(-1)] = put;
  return JSON.stringify(value);
}

test('a number has the unit beside the field, and any other unit is kept as it was typed', () => {
  assert.deepEqual(typedReading(' 20.1 ', 'mbar'), { value: '20.1', unit: 'mbar' });
  assert.deepEqual(typedReading('2.01 kPa', 'mbar'), { value: '2.01', unit: 'kPa' });
  assert.deepEqual(typedReading('2.01kPa', 'mbar'), { value: '2.01', unit: 'kPa' });
  assert.deepEqual(typedReading('4271,386', 'm³'), { value: '4271,386', unit: 'm³' });
  assert.deepEqual(typedReading('−3', '°C'), { value: '−3', unit: '°C' });
  assert.deepEqual(typedReading('not fitted', 'mbar'), { value: 'not fitted', unit: '' });
  assert.deepEqual(typedReading('5', ''), { value: '5', unit: '' });
});

test('a field shows a unit only where it is not the one beside it', () => {
  assert.equal(fieldText({ value: '20.1', unit: 'mbar' }, 'mbar'), '20.1');
  assert.equal(fieldText({ value: '2.01', unit: 'kPa' }, 'mbar'), '2.01 kPa');
  assert.equal(fieldText({ value: 'not fitted', unit: '' }, 'mbar'), 'not fitted');
});

test('a whole file is read as it is', () => {
  const { file: read, problems } = readVisits(file('whole.json'));
  assert.equal(problems, undefined);
  assert.deepEqual(read, JSON.parse(file('whole.json')));
});

for (const { id, at, put, problems } of JSON.parse(file('damaged.json'))) {
  test(`a file with ${id} is refused, and why is told`, () => {
    const read = readVisits(changed(at, put));
    assert.equal(read.file, undefined);
    assert.deepEqual(read.problems.map(said), problems);
    assert.ok(read.problems.every(({ fix }) => fix.endsWith('.')));
  });
}

test('every problem is told in one go', () => {
  const value = JSON.parse(file('whole.json'));
  value.edition = 3;
  value.visits[0].notes = 'none';
  delete value.visits[0].readings[1].at;
  const where = readVisits(JSON.stringify(value)).problems.map((each) => each.where);
  assert.deepEqual(where, ['edition', 'visits[0].readings[1].at', 'visits[0].notes']);
});

test('half a file, an empty one and one of another kind are refused', () => {
  const half = file('whole.json').slice(0, 900);
  for (const text of [half, '', 'null', '[]', '7', '"visits"', '<html>', '{']) {
    const { problems } = readVisits(text);
    assert.equal(problems?.length, 1, text);
  }
});

test('a text that is longer than any record needs is refused', () => {
  const at = ['visits', 0, 'readings', 0, 'value'];
  const [problem] = readVisits(changed(at, '9'.repeat(301))).problems;
  assert.equal(problem.expected, 'at most 300 letters');
  assert.ok(problem.found.length < 70);
});

test('no cell of the table is a formula', () => {
  for (const text of ['=1+1', '+A1', '-A1', '@SUM(A1)', ' =1', '\t=1', '＝1', '-2+3']) {
    assert.match(csvCell(text), /^"?'/, text);
  }
  for (const text of ['-3', '+4.5', '-0.2']) assert.equal(csvCell(text), text);
  assert.equal(csvCell('a "b", c'), '"a ""b"", c"');
  assert.equal(csvCell('two\nlines'), '"two\nlines"');
});

test('the table has a line for all that a visit holds', () => {
  const [visit] = JSON.parse(file('whole.json')).visits;
  const table = csvOf(visit, () => 'A group');
  assert.ok(table.startsWith('\ufeffVisit,What,Group,Name,Value,Unit,'));
  const lines = table.split('\r\n');
  assert.equal(lines.length, 1 + 5 + 4 + 1 + 1);
  const reading = 'The invented visit,Reading,A group,Burner pressure tolerance,0.03,kPa,,,,,,2026-11-25T08:32:00.000Z';
  assert.equal(lines[2], reading);
  assert.match(lines[8], /,does not meet,12\.2 to 12\.8 mbar,.*,instructions govern,2026-11-25T08:45/);
});
