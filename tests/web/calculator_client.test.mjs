import assert from 'node:assert/strict';
import { test } from 'node:test';

import { CalculatorClient } from '../../build_tools/web/src/client/calculator-client.js';
import { FakeChannels, FakeWorker } from './fake_worker.mjs';

const answers = (worker, { id, request }) => worker.say({ id, result: { answer: request } });
const silent = () => {};
const dies = (worker) => worker.fail('error');

/** A client whose workers behave in turn as given, the last one for good. */
function clientOf(
  behaviours,
  { patienceMs = { start: 50, answer: 50, again: 50 }, replyChannel = () => null } = {},
) {
  FakeWorker.made = [];
  const makeWorker = () =>
    new FakeWorker(behaviours[Math.min(FakeWorker.made.length, behaviours.length - 1)]);
  return new CalculatorClient('worker.js', { patienceMs, makeWorker, replyChannel });
}

const request = { action: 'run', calculator: 'gas_rate', inputs: {} };

test('an answer comes back to the question that asked for it', async () => {
  const held = [];
  const client = clientOf([(worker, question) => held.push([worker, question])]);
  const first = client.run({ ...request, calculator: 'gas_rate' });
  const second = client.run({ ...request, calculator: 'burner_pressure' });
  await Promise.resolve();
  for (const [worker, question] of held.reverse()) answers(worker, question);
  assert.equal((await first).answer.calculator, 'gas_rate');
  assert.equal((await second).answer.calculator, 'burner_pressure');
  assert.equal(FakeWorker.made.length, 1);
});

test('the first part of an answer is told before the whole of it', async () => {
  const inParts = (worker, question) => {
    assert.equal(question.inParts, true);
    worker.say({ id: question.id, first: { answer: { answers: [] } } });
    answers(worker, question);
  };
  const heard = [];
  const client = clientOf([inParts]);
  heard.push(await client.run(request, (first) => heard.push(first)));
  assert.deepEqual(heard, [{ answer: { answers: [] } }, { answer: request }]);
});

test('what comes both ways is told once, as soon as it is there', async () => {
  const channels = new FakeChannels();
  const heard = [];
  const twice = (worker, question) => {
    const first = { id: question.id, first: { answer: { answers: [] } } };
    channels.say(question.replyChannel, first);
    heard.push('then the usual way');
    worker.say(first);
    answers(worker, question);
    channels.say(question.replyChannel, first); // late: it is settled
  };
  const client = clientOf([twice], { replyChannel: channels.open });
  heard.push(await client.run(request, (first) => heard.push(first)));
  const [first, whole] = [{ answer: { answers: [] } }, { answer: request }];
  assert.deepEqual(heard, [first, 'then the usual way', whole]);
});

test('a refusal that comes by the channel settles the question', async () => {
  const channels = new FakeChannels();
  const refuses = (_worker, { id, replyChannel }) =>
    channels.say(replyChannel, { id, result: 'refused' });
  const client = clientOf([refuses], { replyChannel: channels.open });
  assert.equal(await client.run(request, () => {}), 'refused');
});

test('each worker has a channel of its own, closed with it', async () => {
  const channels = new FakeChannels();
  const client = clientOf([dies, answers], { replyChannel: channels.open });
  await client.run(request, () => {});
  const [of, its] = channels.opened;
  assert.deepEqual([of.closed, its.closed], [true, false]);
  client.stop();
  assert.ok(its.closed);
});

test('who does not ask for parts is told none', async () => {
  const client = clientOf([answers]);
  await client.run(request);
  assert.equal(FakeWorker.made[0].asked[0].inParts, false);
});

test('a question carries its action', async () => {
  const client = clientOf([answers]);
  await client.run({ action: 'list' });
  assert.equal(FakeWorker.made[0].asked[0].action, 'list');
});

for (const type of ['error', 'messageerror']) {
  test(`a worker that ends by ${type} is replaced and the question asked again`, async () => {
    const client = clientOf([(worker) => worker.fail(type), answers]);
    assert.deepEqual(await client.run(request), { answer: request });
    assert.equal(FakeWorker.made.length, 2);
    assert.ok(FakeWorker.made[0].ended);
  });
}

test('a worker that says it has stopped is replaced', async () => {
  const stops = (worker) => worker.say({ stopped: { kind: 'Broken', field: null, message: 'x' } });
  const client = clientOf([stops, answers]);
  assert.deepEqual(await client.run(request), { answer: request });
});

test('a worker that says nothing is ended after the time-out', async () => {
  const client = clientOf([silent, answers]);
  assert.deepEqual(await client.run(request), { answer: request });
  assert.ok(FakeWorker.made[0].ended);
});

test('once it has started, a worker has less time, and the second less again', async () => {
  const patienceMs = { start: 60_000, answer: 40, again: 20 };
  const starts = (worker) => worker.say({ stage: 'ready', way: 'snapshot' });
  const client = clientOf([starts], { patienceMs });
  const told = [];
  const began = performance.now();
  const asked = client.run(request, undefined, () => told.push(performance.now() - began));
  await assert.rejects(asked, { kind: 'TimedOut', message: /Your readings are kept/ });
  assert.equal(told.length, 1);
  assert.ok(told[0] >= 39, `told after ${told[0]} ms`);
  const second = performance.now() - began - told[0];
  assert.ok(second < 1000, `the second worker had ${second} ms, as if it were still starting`);
  assert.equal(FakeWorker.made.length, 2);
});

test('a worker that starts slowly has the time of a start', async () => {
  const patienceMs = { start: 60_000, answer: 10, again: 10 };
  const slow = (worker, question) => setTimeout(() => answers(worker, question), 60);
  const client = clientOf([slow], { patienceMs });
  assert.deepEqual(await client.run(request), { answer: request });
  assert.equal(FakeWorker.made.length, 1);
});

test('a paper for a class has longer than an answer, once it has started', async () => {
  const patienceMs = { start: 60_000, answer: 10, again: 10, practice: 60_000 };
  const draws = (worker, question) => {
    worker.say({ stage: 'ready', way: 'snapshot' });
    setTimeout(() => answers(worker, question), 60);
  };
  const paper = { action: 'practice', about: 'paper' };
  assert.deepEqual(await clientOf([draws], { patienceMs }).run(paper), { answer: paper });
  assert.equal(FakeWorker.made.length, 1);
});

test('a second death is told in words that can be shown', async () => {
  const client = clientOf([dies]);
  await assert.rejects(client.run(request), {
    name: 'CalculatorStopped',
    kind: 'WorkerDied',
    message: /stopped before they answered\. Your readings are kept/,
  });
  assert.equal(FakeWorker.made.length, 2);
});

test('every question of a dead worker settles', async () => {
  const client = clientOf([silent, silent]);
  const outcomes = await Promise.allSettled([1, 2, 3].map(() => client.run(request)));
  assert.deepEqual(new Set(outcomes.map(({ reason }) => reason?.kind)), new Set(['TimedOut']));
});

test('the next question after a failure gets a fresh worker', async () => {
  const client = clientOf([dies, dies, answers]);
  await assert.rejects(client.run(request));
  assert.deepEqual(await client.run(request), { answer: request });
});

test('what a replaced worker still says is ignored', async () => {
  const client = clientOf([
    silent,
    (worker, question) => {
      answers(FakeWorker.made[0], { ...question, request: 'stale' });
      answers(worker, question);
    },
  ]);
  assert.deepEqual(await client.run(request), { answer: request });
});

test('a failure names its kind and field', async () => {
  const error = { kind: 'BadRequest', field: 'volume', message: 'No.' };
  const client = clientOf([(worker, { id }) => worker.say({ id, error })]);
  await assert.rejects(client.run(request), error);
});

test('a browser that makes no worker is told in words', async () => {
  const makeWorker = () => {
    throw new Error('SecurityError');
  };
  const client = new CalculatorClient('worker.js', { makeWorker });
  await assert.rejects(client.run(request), { kind: 'NoWorker', message: /did not let/ });
});

test('readings that cannot be sent are told and the worker goes on', async () => {
  const client = clientOf([answers]);
  await assert.rejects(client.run({ ...request, inputs: () => {} }), { kind: 'NotSent' });
  assert.deepEqual(await client.run(request), { answer: request });
  assert.equal(FakeWorker.made.length, 1);
});

test('stop settles what is out', async () => {
  const client = clientOf([silent]);
  const asked = client.run(request);
  client.stop();
  await assert.rejects(asked, { kind: 'Stopped', message: 'You stopped the calculator.' });
  assert.ok(FakeWorker.made[0].ended);
});

test('who listens late hears the stage at once', async () => {
  const client = clientOf([
    (worker, question) => {
      worker.say({ stage: 'ready', way: 'snapshot' });
      answers(worker, question);
    },
  ]);
  await client.run(request);
  const heard = [];
  client.onStage(({ stage }) => heard.push(stage));
  assert.deepEqual(heard, ['ready']);
});

test('listening starts the worker when the page is idle', async () => {
  const client = clientOf([answers]);
  client.onStage(() => {});
  assert.equal(FakeWorker.made.length, 0);
  await new Promise((resolve) => setTimeout(resolve, 20));
  assert.equal(FakeWorker.made.length, 1);
});

test('a worker that the page made early is taken over, with what it has said', async () => {
  const early = new FakeWorker(answers);
  globalThis.hbEarlyWorker = { worker: early, heard: [{ stage: 'ready' }] };
  const stages = [];
  const client = new CalculatorClient('worker.js', { replyChannel: () => null });
  client.onStage(({ stage }) => stages.push(stage));
  assert.equal(early.onmessage, null);
  assert.deepEqual(await client.run({ a: 1 }), { answer: { a: 1 } });
  assert.deepEqual(stages, ['ready']);
  assert.equal(globalThis.hbEarlyWorker, undefined);
});

test('an early worker that failed is ended, and another is made', async () => {
  const early = new FakeWorker(silent);
  globalThis.hbEarlyWorker = { worker: early, heard: [null] };
  globalThis.Worker = class extends FakeWorker {
    constructor() {
      super(answers);
    }
  };
  const client = new CalculatorClient('worker.js', { replyChannel: () => null });
  assert.deepEqual(await client.run({ a: 2 }), { answer: { a: 2 } });
  assert.equal(early.ended, true);
  delete globalThis.Worker;
});
