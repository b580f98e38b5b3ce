import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

import { storedKey } from '../../build_tools/web/src/lib/appliance-key.js';
import {
  ApplianceEntries,
  isShared,
  nextId,
  ownerOf,
  placed,
} from '../../build_tools/web/src/visit/appliances.js';
import { csvOf } from '../../build_tools/web/src/visit/csv.js';
import { readVisits } from '../../build_tools/web/src/visit/read-file.js';
import { fieldsOf, wholeVisit } from '../../build_tools/web/src/visit/whole-visit.js';

globalThis.hbReadingFacts = {
  shared: [
    'reading:tightness.test_start',
    'choice:gas',
    'check:purge',
    'outcome:tightness_test.smell',
    'answer:tightness_test',
    'tick:tightness_test',
  ],
};

const NOW = Date.UTC(2026, 11, 1);
const file = (name) => readFileSync(new URL(`./visits/${name}`, import.meta.url), 'utf8');
const parsed = (name) => JSON.parse(file(name));
const several = parsed('several.json').visits[0];
const sorted = (visit) =>
  Object.fromEntries(
    Object.entries(visit).map(([key, value]) => [
      key,
      Array.isArray(value)
        ? value.map((each) => JSON.stringify(each, Object.keys(each).sort())).sort()
        : value,
    ]),
  );

test('what all share is known by its kind and its name', () => {
  const moment = '2026-11-25T08:45:00.000Z';
  for (const key of [
    'reading:tightness.test_start',
    'choice:gas',
    'outcome:tightness_test.smell',
    `answer:${moment}:tightness_test`,
    'tick:tightness_test.zero',
  ]) {
    assert.equal(isShared(key), true, key);
  }
  for (const key of [
    'reading:plate.gas_rate',
    'choice:flue',
    'outcome:burner_pressure.found_max',
    `answer:${moment}:burner_pressure`,
    'tick:burner_pressure.zero',
    'check:tightness.test_start',
  ]) {
    assert.equal(isShared(key), false, key);
  }
});

test('the first appliance and what all share keep the keys of a visit with one', () => {
  const at = (key, appliance) => placed({ key }, appliance);
  assert.deepEqual(at('choice:flue', '1'), { key: 'choice:flue', appliance: '1' });
  assert.deepEqual(at('choice:flue', '2'), { key: '2/choice:flue', appliance: '2' });
  assert.deepEqual(at('choice:gas', '2'), { key: 'choice:gas', appliance: '' });
  // As an edition kept it that knew one appliance.
  assert.equal(ownerOf({ key: 'choice:gas' }), '');
  assert.equal(ownerOf({ key: 'choice:flue' }), '1');
  assert.equal(ownerOf({ key: '12/choice:flue' }), '12');
  assert.equal(nextId([{ id: '1' }, { id: '9' }, { id: '10' }]), '11');
});

test('an appliance sees its own and what all share, and nothing of another', () => {
  const { entries } = fieldsOf(several);
  const seen = (id) => new ApplianceEntries(entries, id);
  assert.equal(seen('1').reading('plate.burner_pressure_max')?.value, '12.5');
  assert.equal(seen('3').reading('plate.burner_pressure_max')?.value, '16.2');
  assert.equal(seen('2').reading('plate.burner_pressure_max'), undefined);
  for (const id of ['1', '2', '3']) {
    assert.equal(seen(id).reading('tightness.test_start')?.value, '20.4');
    assert.equal(seen(id).entry('check:purge')?.state, 'done');
  }
  assert.equal(seen('1').entry('tick:burner_pressure.locate'), undefined);
  assert.equal(seen('3').entry('tick:burner_pressure.locate')?.step, 'locate');
  assert.equal(seen('1').entry('note:defects'), undefined);
});

test('a visit of several appliances is kept, and goes out as it came in', () => {
  const { file: read, problems } = readVisits(file('several.json'), NOW);
  assert.equal(problems, undefined);
  const { visit, entries } = fieldsOf(read.visits[0]);
  assert.equal(new Set(entries.map(({ key }) => key)).size, entries.length);
  assert.deepEqual(sorted(wholeVisit(visit, entries, () => '')), sorted(several));
});

test('an appliance that was taken out elsewhere is named where something of it is left', () => {
  const { visit, entries } = fieldsOf(several);
  const without = { ...visit, appliances: visit.appliances.slice(0, 1) };
  const whole = wholeVisit(without, entries, () => '');
  assert.deepEqual(whole.appliances.at(-1), { id: '3', name: 'Appliance 3', at: visit.begun });
  const text = JSON.stringify({ ...parsed('several.json'), visits: [whole] });
  assert.equal(readVisits(text, NOW).problems, undefined);
});

test('one reading may stand once in each appliance, and only once', () => {
  const value = parsed('several.json');
  value.visits[0].readings[1].appliance = '1';
  const { problems } = readVisits(JSON.stringify(value), NOW);
  assert.deepEqual(
    problems.map(({ where }) => where),
    ['visits[0].readings[1]'],
  );
  // The first appliance's and what all share have one key.
  value.visits[0].readings[1].appliance = '';
  assert.equal(readVisits(JSON.stringify(value), NOW).problems?.length, 1);
});

test('a file of the third version comes up as one appliance with what it shares', () => {
  const third = parsed('version_3.json');
  assert.equal(third.version, 3);
  const whole = parsed('whole.json');
  Object.assign(whole.visits[0], { ticks: [], instruments: [] });
  for (const outcome of whole.visits[0].outcomes) outcome.figures = [];
  assert.deepEqual(readVisits(JSON.stringify(third), NOW).file, whole);
});

test('the table says of each line whose it is', () => {
  const lines = csvOf(several, () => '').split('\r\n');
  const about = (start) =>
    lines.filter((line) => line.startsWith(`"Two appliances, invented",${start},`));
  assert.equal(about('Front-room fire,Reading').length, 1);
  assert.equal(about(',Reading').length, 1);
  assert.equal(about('Front-room fire,Ticked').length, 1);
  assert.equal(about('Front-room fire,Note').length, 1);
});

/** Numbers by which the same files are spoilt each time: a linear congruence (Numerical Recipes). */
function numbers(seed) {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

const ODD = [
  null,
  0,
  -1,
  '',
  '1',
  '2',
  '3',
  [],
  {},
  'x'.repeat(400),
  '../',
  '\u202e',
  true,
  '__proto__',
];

/** One place of it is put wrong, taken out, or doubled. */
function spoilt(value, next) {
  const places = [];
  const walk = (each) => {
    if (each === null || typeof each !== 'object') return;
    for (const key of Object.keys(each)) {
      places.push([each, key]);
      walk(each[key]);
    }
  };
  walk(value);
  const [owner, key] = places[next(places.length)];
  const way = next(3);
  if (way === 0) owner[key] = structuredClone(ODD[next(ODD.length)]);
  else if (way === 1 && !Array.isArray(owner)) delete owner[key];
  else if (Array.isArray(owner)) owner.push(structuredClone(owner[key]));
  else owner[key] = structuredClone(places[next(places.length)][0]);
  return value;
}

test('of 10,000 spoilt files each is refused with a reason, or goes out as it came in', () => {
  const next = numbers(18);
  const texts = ['version_1.json', 'version_3.json', 'whole.json', 'several.json'].map(file);
  let read = 0;
  for (let round = 0; round < 10_000; round += 1) {
    let value = JSON.parse(texts[next(texts.length)]);
    for (let times = next(3); times >= 0; times -= 1) value = spoilt(value, next) ?? value;
    const text = JSON.stringify(value);
    const { file: found, problems } = readVisits(text, NOW);
    if (problems) {
      assert.ok(problems.length, text);
      assert.ok(
        problems.every(({ where, expected, fix }) => where && expected && fix.endsWith('.')),
      );
      continue;
    }
    read += 1;
    for (const visit of found.visits) {
      const { visit: head, entries } = fieldsOf(visit);
      const keys = entries.map(({ key }) => key);
      assert.equal(new Set(keys).size, keys.length, text);
      assert.ok(
        entries.every(
          (each) => each.key === storedKey(each.key.replace(/^\d+\//, ''), each.appliance),
        ),
      );
      assert.deepEqual(sorted(wholeVisit(head, entries, () => '')), sorted(visit));
    }
  }
  assert.ok(read > 100 && read < 9_900, `${read} of them were read`);
});
