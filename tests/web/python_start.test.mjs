import assert from 'node:assert/strict';
import { test } from 'node:test';

import { FileDamaged } from '../../build_tools/web/src/worker/file-hashes.js';
import { Python } from '../../build_tools/web/src/worker/python-start.js';

const answering = (name) => async () => ({
  answer: (request) => JSON.stringify(`${name}: ${JSON.parse(request)}`),
});
const refusing = (words) => async () => {
  throw new Error(words);
};
/** A frozen Python that is asked for more than it has. */
const beyond = async () => ({
  answer() {
    throw new Error('asked for a file');
  },
});

const names = ['pyodide.js', 'pyodide.asm.wasm', 'snapshot.bin.gz'];
const files = { facts: { files: Object.fromEntries(names.map((name) => [name, {}])) } };

function started(way, starts) {
  const stages = [];
  const all = { snapshot: answering('snapshot'), ordinary: answering('ordinary'), ...starts };
  return { python: new Python(files, way, (stage) => stages.push(stage), { starts: all }), stages };
}

const told = (stages) => stages.map(({ stage, way }) => `${stage} ${way}`);

test('the snapshot is the way to start', async () => {
  const { python, stages } = started(null);
  assert.equal(await python.answer('a'), 'snapshot: a');
  assert.deepEqual(told(stages), ['fetching snapshot', 'ready snapshot']);
});

test('the ordinary start can be asked for', async () => {
  const { python, stages } = started('ordinary');
  assert.equal(await python.answer('a'), 'ordinary: a');
  assert.deepEqual(told(stages), ['starting ordinary', 'ready ordinary']);
});

test('a snapshot that is refused gives way to the ordinary start, and the reason is told', async () => {
  const { python, stages } = started(null, { snapshot: refusing('it is cut short') });
  assert.equal(await python.answer('a'), 'ordinary: a');
  assert.match(stages.at(-1).why, /cut short/);
  assert.equal(stages.at(-1).stage, 'ready');
});

test('a request that the snapshot can not answer is answered after the ordinary start', async () => {
  const { python, stages } = started(null, { snapshot: beyond });
  assert.equal(await python.answer('a'), 'ordinary: a');
  assert.equal(await python.answer('b'), 'ordinary: b');
  assert.deepEqual(told(stages).slice(2), ['starting ordinary', 'ready ordinary']);
});

test('several requests in that trouble start it once', async () => {
  const { python, stages } = started(null, { snapshot: beyond });
  const answers = await Promise.all(['a', 'b', 'c'].map((request) => python.answer(request)));
  assert.deepEqual(answers, ['ordinary: a', 'ordinary: b', 'ordinary: c']);
  assert.equal(told(stages).filter((each) => each === 'starting ordinary').length, 1);
});

test('with the snapshot alone allowed, its trouble is told to each request', async () => {
  const { python } = started('snapshot', { snapshot: refusing('it is cut short') });
  await assert.rejects(python.answer('a'), /cut short/);
  await assert.rejects(python.answer('b'), /cut short/);
  const { python: other } = started('snapshot', { snapshot: beyond });
  await assert.rejects(other.answer('a'), /asked for a file/);
});

test('when neither way works, each request is told', async () => {
  const ways = { snapshot: refusing('it is cut short'), ordinary: refusing('no wheel') };
  const { python } = started(null, ways);
  await assert.rejects(python.answer('a'), /no wheel/);
  await assert.rejects(python.answer('b'), /no wheel/);
});

test('the files to look at are those that the start needs', async () => {
  const { python } = started(null, { snapshot: refusing('it is cut short') });
  assert.deepEqual(python.needs, ['pyodide.asm.wasm', 'snapshot.bin.gz']);
  await python.answer('a');
  assert.deepEqual(python.needs, ['pyodide.js', 'pyodide.asm.wasm']);
  assert.equal(python.gaveWay, true);
});

test('a damaged runtime ends the start: the other way would run on the same', async () => {
  const damaged = async () => {
    throw new FileDamaged('pyodide.asm.wasm');
  };
  const { python, stages } = started(null, { snapshot: damaged });
  await assert.rejects(python.started, FileDamaged);
  await assert.rejects(python.answer('a'), /not what this edition was built with/);
  assert.deepEqual(told(stages), ['fetching snapshot']);
});

/** A Python that gives the rest of the answer that was begun last, as that of the calculators. */
async function inParts() {
  let begun = '';
  return {
    answer(text) {
      const { action, calculator } = JSON.parse(text);
      if (action === 'rest') return JSON.stringify({ rest: { working: begun } });
      if (calculator === 'refuses') return JSON.stringify({ refused: [] });
      begun = calculator;
      return JSON.stringify({ answer: { calculator } });
    },
  };
}

test('each answer in parts has its own rest, whatever else is asked', async () => {
  const { python } = started(null, { snapshot: inParts });
  const heard = [];
  const ask = (calculator) => python.answer({ calculator }, ({ answer }) => heard.push(answer));
  const whole = await Promise.all(['gas_rate', 'purge', 'gas_rate'].map(ask));
  const names = ['gas_rate', 'purge', 'gas_rate'];
  assert.deepEqual(
    heard,
    names.map((calculator) => ({ calculator })),
  );
  assert.deepEqual(
    whole,
    names.map((calculator) => ({ answer: { calculator, working: calculator } })),
  );
});

test('a refusal has no parts', async () => {
  const { python } = started(null, { snapshot: inParts });
  const heard = [];
  const reply = await python.answer({ calculator: 'refuses' }, (first) => heard.push(first));
  assert.deepEqual([reply, heard], [{ refused: [] }, []]);
});

test('a start waits for the word to begin, and so does a question', async () => {
  const stages = [];
  let begin = () => {};
  const waits = { begin: new Promise((resolve) => (begin = resolve)) };
  const starts = { snapshot: answering('snapshot'), ordinary: refusing('not asked for') };
  const tell = (stage) => stages.push(stage);
  const asked = new Python(files, null, tell, { starts, ...waits }).answer('a');
  await new Promise((resolve) => setTimeout(resolve));
  assert.deepEqual(stages, []);
  begin();
  assert.equal(await asked, 'snapshot: a');
});
