import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

import { cardFile, readCards, sameCard } from '../../build_tools/web/src/visit/card-file.js';

const text = readFileSync(new URL('./visits/cards.json', import.meta.url), 'utf8');
const NOW = Date.UTC(2026, 11, 1);
const said = ({ where, found, expected }) => `${where}: found ${found}; expected ${expected}`;

/** The file with one value put in, or taken out. */
function changed(at, put) {
  const value = JSON.parse(text);
  const owner = at.slice(0, -1).reduce((part, key) => part[key], value);
  if (put === undefined) delete owner[at.at(-1)];
  else owner[at.at(-1)] = put;
  return JSON.stringify(value);
}

test('a file of cards is read as it is, and goes out as it came in', () => {
  const { file, problems } = readCards(text, NOW);
  assert.equal(problems, undefined);
  assert.deepEqual(file, JSON.parse(text));
  assert.deepEqual(cardFile(file.cards, file.edition).cards, file.cards);
});

for (const [what, at, put, problem] of [
  [
    'another format',
    ['format'],
    'a',
    'format: found "a"; expected “gas-commissioning-appliance-cards”',
  ],
  ['a newer version', ['version'], 2, 'version: found 2; expected version 1 or older'],
  ['no cards', ['cards'], [], 'cards: found 0 items; expected at least 1'],
  [
    'a card of no edition',
    ['cards', 0, 'edition'],
    undefined,
    'cards[0].edition: found nothing; expected a value',
  ],
  [
    'a flag that is none',
    ['cards', 0, 'invented'],
    'no',
    'cards[0].invented: found "no"; expected true, false',
  ],
  [
    'a line that leads elsewhere',
    ['cards', 0, 'lines', 0, 'field'],
    '../x',
    'cards[0].lines[0].field: found "../x"; expected the form ^[a-z][a-z0-9_]*$',
  ],
  [
    'one line twice',
    ['cards', 0, 'lines', 1, 'field'],
    'pressure_max',
    'cards[0].lines[1]: found "pressure_max" for the second time; expected each once',
  ],
  [
    'a day to come',
    ['cards', 0, 'at'],
    '2999-01-01T00:00:00Z',
    'cards[0].at: found "2999-01-01T00:00:00Z"; expected a time that has been',
  ],
  [
    'a page that nobody sees',
    ['cards', 0, 'lines', 0, 'page'],
    '\u202e4',
    'cards[0].lines[0].page: found "<U+202E>4"; expected a line without invisible letters and direction marks',
  ],
  [
    'a key too many',
    ['cards', 0, 'maker'],
    'x',
    'cards[0].maker: found a name that is not known; expected one of: id, name, edition, at, invented, lines',
  ],
]) {
  test(`a file with ${what} is refused, and why is told`, () => {
    const { file, problems } = readCards(changed(at, put), NOW);
    assert.equal(file, undefined);
    assert.deepEqual(problems.map(said), [problem]);
    assert.ok(problems[0].fix.endsWith('.'));
  });
}

test('half a file and one of visits are refused', () => {
  const visits = readFileSync(new URL('./visits/whole.json', import.meta.url), 'utf8');
  for (const wrong of [text.slice(0, 300), '', 'null', '[]', visits]) {
    assert.equal(readCards(wrong, NOW).problems?.length, 1, wrong.slice(0, 40));
  }
});

test('what is typed comes in again, whatever letters it has', () => {
  const [card] = JSON.parse(text).cards;
  const odd = {
    ...card,
    name: 'Boiler\u202e',
    lines: [{ field: 'tools', text: 'a\u202e\n<b>', unit: '', page: '\u200b4' }],
  };
  const again = readCards(JSON.stringify(cardFile([odd], '')), NOW + 1e12);
  assert.equal(again.problems, undefined);
  assert.deepEqual(again.file.cards[0].lines[0], {
    field: 'tools',
    text: 'a\n<b>',
    unit: '',
    page: '4',
  });
});

test('two cards are the same by what they say, in whatever order and under whatever name', () => {
  const [card] = JSON.parse(text).cards;
  assert.ok(
    sameCard(card, { ...card, id: 'x', name: 'Another', lines: [...card.lines].reverse() }),
  );
  assert.ok(!sameCard(card, { ...card, edition: '4' }));
  assert.ok(!sameCard(card, { ...card, lines: card.lines.slice(1) }));
});
