/** The file of what a reader keeps: read whole, or refused with the reason. */

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { readOwn } from '../../build_tools/web/src/own/own-file.js';
import { isNumber } from '../../build_tools/web/src/own/own-person.js';

const AT = '2026-11-28T10:00:00.000Z';
// All of it invented.
const WHOLE = {
  ...{ format: 'gas-commissioning-own', version: 1, edition: '2026-11-28 abc1234', written: AT },
  figures: [
    { name: 'a.b', value: '3 mbar', edition: 'Edition 4', at: AT },
    { name: 'a.c', rows: [['0.02 m³', '3 mbar']], edition: 'Edition 4', at: AT },
  ],
  instruments: [
    {
      ...{ id: '1f', kind: 'digital_gauge_1dp', name: 'Blue box', serial: 'A 17', at: AT },
      ...{ resolution: '0.1 mbar', accuracy: '0.5 %', in_use: true },
      ...{ calibrated_on: '2026-05-01', calibrated_until: '2027-05-01' },
    },
  ],
  ...{ contact: '0111 222333', name: 'An engineer', registration: '123456' },
};

test('a whole file is read', () => {
  assert.deepEqual(readOwn(JSON.stringify(WHOLE)), { file: WHOLE });
});

test('a damaged file is refused with the reason', () => {
  const damaged = [
    [{ contact: '999<b>' }, /^contact: found "999<b>"; expected digits and spaces/],
    [{ instruments: 'none' }, /^instruments: found "none"; expected a list/],
    [{ instruments: [{ ...WHOLE.instruments[0], in_use: 'yes' }] }, /in_use: .* true or false/],
    [{ instruments: [{ ...WHOLE.instruments[0], calibrated_until: 'May' }] }, /expected a day as/],
    [
      { figures: [{ ...WHOLE.figures[0], value: 3 }] },
      /^figures\[0\].value: found 3; expected a text/,
    ],
    [{ figures: [{ ...WHOLE.figures[1], rows: [['3 mbar']] }] }, /rows\[0\]: found 1 items/],
    [{ price: '90' }, /^price: found a name that is not known/],
    [{ name: undefined }, /^name: found nothing/],
    [{ version: 2 }, /newer handbook/],
    [{ format: 'another' }, /no file of this page/],
  ];
  for (const [change, reason] of damaged) {
    const { file, problems } = readOwn(JSON.stringify({ ...WHOLE, ...change }));
    assert.equal(file, undefined);
    assert.match(problems[0], reason);
  }
  assert.match(readOwn(JSON.stringify(WHOLE).slice(0, 90)).problems[0], /not whole/);
  for (const text of ['null', '7', '[]', '""']) assert.match(readOwn(text).problems[0], /no file/);
});

test('a number to call is digits, spaces and a plus before them', () => {
  for (const text of ['0111 222333', '+44 111 222333', '112']) assert.ok(isNumber(text), text);
  const wrong = ['', 'none', '0111-222333', '+', '1', 'tel:112', '112;x', '0'.repeat(40), ' 112'];
  for (const text of wrong) assert.ok(!isNumber(text), text);
});
