import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

import { csvCell, csvOf } from '../../build_tools/web/src/visit/csv.js';
import { withoutRepeats } from '../../build_tools/web/src/visit/kept-outcome.js';
import { readVisits } from '../../build_tools/web/src/visit/read-file.js';
import { fieldText, typedReading } from '../../build_tools/web/src/visit/reading-text.js';
import { plainName } from '../../build_tools/web/src/visit/visit-name.js';
import { wholeVisit } from '../../build_tools/web/src/visit/whole-visit.js';

const file = (name) => readFileSync(new URL(`./visits/${name}`, import.meta.url), 'utf8');
// What reading-facts.js says in a browser.
globalThis.hbReadingFacts = { shared: ['check:purge', 'reading:tightness.test_start'] };
// The clock of the tests: the files were written before it.
const NOW = Date.UTC(2026, 11, 1);
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
  const { file: read, problems } = readVisits(file('whole.json'), NOW);
  assert.equal(problems, undefined);
  assert.deepEqual(read, JSON.parse(file('whole.json')));
});

for (const { id, at, put, problems } of JSON.parse(file('damaged.json'))) {
  test(`a file with ${id} is refused, and why is told`, () => {
    const read = readVisits(changed(at, put), NOW);
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

test('a file of the first version is read, and what is damaged in it is told', () => {
  const first = JSON.parse(file('version_1.json'));
  assert.equal(first.version, 1);
  const whole = JSON.parse(file('whole.json'));
  Object.assign(whole.visits[0], {
    outcomes: [],
    choices: [],
    checks: [],
    ticks: [],
    instruments: [],
  });
  assert.deepEqual(readVisits(JSON.stringify(first), NOW).file, whole);
  const [answer] = first.visits[0].answers;
  delete answer.verdicts[0].standing;
  answer.verdicts[1].standing = 7;
  answer.verdicts.push(null);
  first.visits.push(null, { answers: 'none' });
  const { problems } = readVisits(JSON.stringify(first), NOW);
  const verdicts = 'visits[0].answers[0].verdicts';
  assert.deepEqual(problems.slice(0, 3).map(said), [
    `${verdicts}[0].provenance: found nothing; expected a value`,
    `${verdicts}[1].provenance: found 7; expected a text`,
    `${verdicts}[2]: found null; expected a group of named values`,
  ]);
});

test('half a file, an empty one and one of another kind are refused', () => {
  const half = file('whole.json').slice(0, 900);
  for (const text of [half, '', 'null', '[]', '7', '"visits"', '<html>', '{']) {
    const { problems } = readVisits(text);
    assert.equal(problems?.length, 1, text);
  }
});

test('a file that is too deep is refused for that', () => {
  for (const text of [
    `${'['.repeat(50_000)}${']'.repeat(50_000)}`,
    `{"visits":${'{"a":'.repeat(200_000)}`,
  ]) {
    const [problem, ...others] = readVisits(text).problems;
    assert.equal(
      said(problem),
      'the file: found lists and groups more than 20 deep inside one another; expected at most 20',
    );
    assert.equal(problem.fix, 'Choose a file that this page exported.');
    assert.deepEqual(others, []);
  }
  const brackets = changed(['visits', 0, 'notes', 0, 'text'], '"\\[[{'.repeat(50));
  assert.equal(readVisits(brackets, NOW).problems, undefined);
});

test('what nobody sees is no name, and goes out of what is typed', () => {
  for (const text of [
    '',
    '  ',
    '\u200b',
    '\u202e \u2069',
    '\ufeff\u00ad',
    '\u3164\u2800',
    '\n\t',
  ]) {
    assert.equal(plainName(text), '', JSON.stringify(text));
  }
  assert.equal(plainName(' Boiler\u202e upstairs\n'), 'Boiler upstairs');
  assert.equal(plainName('Caf\u00e9 \u2116 3'), 'Caf\u00e9 \u2116 3');
  assert.deepEqual(typedReading('\u200e20.1\u200b', 'mbar'), { value: '20.1', unit: 'mbar' });
});

test('what an earlier edition kept comes in again', () => {
  const visit = {
    id: '0'.repeat(32),
    name: 'Boiler\u202e',
    begun: '2026-11-25T08:30:00.000Z',
    closed: null,
    appliances: [{ id: '1', name: '\u200bBoiler', at: '2026-11-25T08:30:00.000Z' }],
  };
  const at = visit.begun;
  const entries = [
    {
      visit: visit.id,
      key: 'reading:a.b',
      kind: 'reading',
      name: 'a.b',
      label: '\u200bA',
      value: '\u200e2',
      unit: '',
      at,
    },
    {
      visit: visit.id,
      key: 'reading:a.c',
      kind: 'reading',
      name: 'a.c',
      label: 'B',
      value: '\u200b',
      unit: '',
      at,
    },
    {
      visit: visit.id,
      key: 'note:done',
      kind: 'note',
      name: 'done',
      label: 'Done',
      text: 'a\u202e\n\tb',
      at,
    },
  ];
  const whole = {
    ...JSON.parse(file('whole.json')),
    visits: [wholeVisit(visit, entries, () => '')],
  };
  assert.equal(readVisits(JSON.stringify(whole), NOW).problems, undefined);
  assert.equal(whole.visits[0].notes[0].text, 'a\n\tb');
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
  // Where the comma is a decimal point, the semicolon or the tab parts cells.
  assert.equal(csvCell('a;=1+1'), '"a;\'=1+1"');
  assert.equal(csvCell('a\t@SUM(A1)'), '"a\t\'@SUM(A1)"');
  assert.equal(csvCell('a; "-2+3'), '"a; ""\'-2+3"');
  assert.equal(csvCell('one\n=cmd'), '"one\n\'=cmd"');
  assert.equal(csvCell('one\r+1'), '"one\r\'+1"');
  assert.equal(csvCell('a;b'), '"a;b"');
  assert.equal(csvCell('a\tb'), '"a\tb"');
  assert.equal(csvCell('4271,386'), '"4271,386"');
  assert.equal(csvCell('a "b", c'), '"a ""b"", c"');
  assert.equal(csvCell('two\nlines'), '"two\nlines"');
});

test('the table has a line for all that a visit holds', () => {
  const [visit] = JSON.parse(file('whole.json')).visits;
  const table = csvOf(visit, () => 'A group');
  assert.ok(table.startsWith('\ufeffVisit,Appliance,What,Group,Name,Value,Unit,'));
  const lines = table.split('\r\n');
  assert.equal(lines.length, 1 + 5 + 1 + 1 + 1 + 1 + 1 + 4 + 1 + 1 + 1);
  const reading =
    'The invented visit,Appliance 1,Reading,A group,Burner pressure tolerance,0.03,kPa,,,,,,2026-11-25T08:32:00.000Z';
  assert.equal(lines[2], reading);
  assert.match(lines[6], /,Worked out,"Maximum, as found",Share of the plate,78 % ± 1,/);
  assert.match(
    lines[7],
    /,Outcome,A group,"?Maximum, as found"?,.*,does not meet,12\.2 to 12\.8 mbar,/,
  );
  assert.match(lines[8], /,Answer of the visit,,flue,room sealed,/);
  assert.match(lines[9], /^The invented visit,,Check,,purge,No joint was opened\.,,left out,/);
  assert.match(lines[10], /,Ticked,burner pressure,maximum found,,/);
  assert.match(
    lines[13],
    /,does not meet,12\.2 to 12\.8 mbar,.*,instructions govern,2026-11-25T08:45/,
  );
  assert.match(lines[15], /^The invented visit,,Instrument,.*,calibrated until 2027-05-01,/);
});

test('what two steps say of the same readings in the same words stands once, with its figures', () => {
  const verdict = { label: 'Heat input', outcome: 'meets', text: '24.0 kW', limit: '', source: '' };
  const outcome = (step, text, figures, appliance = 'a') => ({
    ...{ step, reading: 'gas_rate.left_index_first', label: 'Heat input', edition: '', at: '' },
    ...{ state: 'within', text, act: '', held_to: 'Plate 24 kW', figures, verdicts: [verdict] },
    appliance,
  });
  const figure = { label: 'Net', text: '24.0 kW', uncertainty: '' };
  const laid = outcome('record_and_handover.fit_together', 'Within.', []);
  const timed = outcome('burner_pressure.final_gas_rate', 'Within.', [figure]);
  const other = outcome('burner_pressure.final_gas_rate', 'Within.', [figure], 'b');
  assert.deepEqual(withoutRepeats([laid, timed]), [timed]);
  assert.deepEqual(withoutRepeats([timed, laid]), [timed]);
  assert.deepEqual(withoutRepeats([timed, laid, other]), [timed, other]);
  const unlike = outcome('record_and_handover.fit_together', 'Outside.', []);
  assert.deepEqual(withoutRepeats([timed, unlike]), [timed, unlike]);
});

test('how an analyser has carbon dioxide is a word of the record: a file and the table hold it', () => {
  const word = {
    ...{ name: 'analyser.carbon_dioxide_by', label: 'How the analyser has carbon dioxide' },
    ...{ value: 'measured by a cell of its own', unit: '', at: '2026-11-25T08:50:00.000Z' },
    appliance: '',
  };
  const { file: read, problems } = readVisits(changed(['visits', 0, 'readings', 5], word), NOW);
  assert.equal(problems, undefined);
  assert.deepEqual(read.visits[0].readings[5], word);
  const line =
    ',Reading,A group,How the analyser has carbon dioxide,measured by a cell of its own,,';
  assert.ok(csvOf(read.visits[0], () => 'A group').includes(line));
});
