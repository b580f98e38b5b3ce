import assert from 'node:assert/strict';
import { test } from 'node:test';

import { moveStage } from '../../build_tools/web/src/practice/progress.js';
import { again, countDue, isDue, pick } from '../../build_tools/web/src/practice/schedule.js';

const NOW = new Date('2026-11-28T08:00:00Z');
const LATER = new Date('2026-11-29T08:00:01Z');
const first = { id: 'one', title: '', topic: 'a', asks: 'number', safety: '' };
const listed = [first, { ...first, id: 'two' }, { ...first, id: 'three', topic: 'b' }];
const empty = () => ({ version: 1, templates: {}, answers: [] });
const chosen = (progress, last = null) =>
  pick(listed, progress, { last, now: NOW, chance: () => 0 })?.id;

test('no template comes twice running, and another topic comes next', () => {
  assert.equal(chosen(empty()), 'one');
  assert.equal(chosen(empty(), first), 'three');
  assert.equal(pick([first], empty(), { last: first, now: NOW }), undefined);
});

test('who begins with nothing is led from the easy to the hard, and topics stay mixed', () => {
  const all = [...'0123456789'].map((id) => ({ ...first, id, topic: 'abc'[Number(id) % 3] }));
  for (const chance of [0, 0.5, 0.999]) {
    const progress = empty();
    const order = [];
    let last = null;
    while (order.length < all.length) {
      last = pick(all, progress, { last, now: NOW, chance: () => chance });
      progress.templates[last.id] = { stage: 2, failures: 0, card: { due: LATER } };
      order.push(last);
    }
    const ids = order.map(({ id }) => Number(id));
    assert.equal(new Set(ids).size, all.length);
    assert.ok(ids[0] < 4); // one of the four easiest
    assert.ok(Math.max(...ids.slice(0, 3)) < 8); // of which those of the last topic are left out
    const mixed = order.slice(1, 7).map(({ topic }, before) => topic !== order[before].topic);
    assert.ok(mixed.every(Boolean));
  }
});

test('what was unsafe and sure comes before what is due, and that before what is new', () => {
  const due = {
    stage: 2,
    failures: 0,
    card: { due: '2026-11-27T00:00:00.000Z', days: 1 },
  };
  const progress = {
    ...empty(),
    templates: { two: { ...due }, three: { ...due, first: true } },
  };
  assert.equal(chosen(progress), 'three');
  progress.templates.three.first = false;
  assert.equal(chosen(progress, listed[2]), 'two');
});

test('what was wrong is due within the hour, and what was right alone no sooner than tomorrow', () => {
  const templates = {
    one: {
      stage: 2,
      failures: 1,
      card: again(undefined, { isRight: false, isAlone: true }, NOW),
    },
    two: {
      stage: 2,
      failures: 0,
      card: again(undefined, { isRight: true, isAlone: true }, NOW),
    },
  };
  const progress = { ...empty(), templates };
  const hour = new Date(NOW.getTime() + 3_600_000);
  assert.equal(isDue(progress, 'one', hour), true);
  assert.equal(isDue(progress, 'two', hour), false);
  const days = (card) => (Date.parse(card.due) - NOW.getTime()) / 86_400_000;
  const once = again(undefined, { isRight: true, isAlone: true }, NOW);
  assert.ok(days(once) >= 1);
  assert.ok(isDue(progress, 'one', LATER));
});

test('right goes a stage on, and two failures go one back', () => {
  const template = { stage: 0, failures: 0 };
  moveStage(template, true);
  moveStage(template, true);
  moveStage(template, true);
  assert.equal(template.stage, 2);
  moveStage(template, false);
  assert.equal(template.stage, 2);
  moveStage(template, false);
  assert.deepEqual(template, { stage: 1, failures: 0 });
});

test('what is due is counted before the questions are loaded, each question once', () => {
  const card = { due: '2026-11-27T00:00:00.000Z' };
  const later = { due: '2026-11-30T00:00:00.000Z' };
  const templates = { one: { card }, two: { card: later }, three: { card } };
  const answer = (question, topic) => ({ question, topic });
  const answers = [
    answer('one', 'a'),
    answer('one', 'a'),
    answer('two', 'a'),
    answer('three', 'b'),
  ];
  assert.equal(countDue({ version: 1, templates, answers }, 'a', NOW), 1);
  assert.equal(countDue({ version: 1, templates, answers }, 'c', NOW), 0);
});
