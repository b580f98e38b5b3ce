/** Reads a file of visits: its form, what is in it twice, and what belongs to nothing in it. */

import { SHARED, storedKey } from '../lib/appliance-key.js';
import { instrumentKey } from './kept-instrument.js';
import { upgradeFile } from './older-record.js';
import { listIn, readStrictly, repeated, said } from './read-strictly.js';
import schema from './visit_record.schema.json' with { type: 'json' };

/** @typedef {import('./schema-check.js').Problem} Problem */
/** @typedef {import('./visit-types.js').VisitFile} VisitFile */

/**
 * @param {string} text
 * @param {number} [now] no visit is later than that
 * @returns {{file: VisitFile, problems?: undefined} | {problems: Problem[], file?: undefined}}
 */
export const readVisits = (text, now = Date.now()) =>
  readStrictly(
    text,
    schema,
    {
      upgrade: (value) => upgradeFile(value, schema.properties.version.const),
      more: (value) => [...twice(value), ...strangers(value)],
    },
    now,
  );

/** @type {Record<string, (each: any) => string | undefined>} */
const NAME_IN = {
  readings: ({ name }) => name,
  outcomes: ({ step }) => step,
  choices: ({ name }) => name,
  checks: ({ name }) => name,
  ticks: ({ procedure, step }) => `${procedure}.${step}`,
  notes: ({ name }) => name,
  answers: ({ at, calculator }) => `${at} ${calculator}`,
  instruments: ({ kind, name, serial }) => kind && name && instrumentKey({ kind, name, serial }),
};

/** @param {any} each @param {string | undefined} name */
const ofAppliance = ({ appliance }, name) => name && storedKey(name, appliance ?? SHARED);

/**
 * What belongs to an appliance that the visit has not would be seen nowhere.
 *
 * @param {any} value
 * @returns {Problem[]}
 */
function strangers({ visits }) {
  const all = /** @type {any[]} */ (Array.isArray(visits) ? visits : []);
  return all.flatMap((visit, number) => {
    const there = new Set([SHARED, ...listIn(visit?.appliances).map((each) => each?.id)]);
    return Object.keys(NAME_IN).flatMap((part) =>
      listIn(visit?.[part]).flatMap((each, at) => {
        if (typeof each?.appliance !== 'string' || there.has(each.appliance)) return [];
        const where = `visits[${number}].${part}[${at}].appliance`;
        const fix = 'Put the id of one of its appliances there, or nothing.';
        return [{ where, found: said(each.appliance), expected: 'an appliance of the visit', fix }];
      }),
    );
  });
}

/**
 * One name stands for one thing: the second would undo the first.
 *
 * @param {any} value
 * @returns {Problem[]}
 */
function twice(value) {
  if (!Array.isArray(value.visits)) return [];
  const visits = repeated(value.visits, 'visits', ({ id }) => id);
  const inside = value.visits.flatMap((/** @type {any} */ visit, /** @type {number} */ number) => {
    const at = `visits[${number}]`;
    return [
      ...repeated(visit?.appliances, `${at}.appliances`, ({ id }) => id),
      ...Object.entries(NAME_IN).flatMap(([part, nameOf]) =>
        repeated(visit?.[part], `${at}.${part}`, (each) => ofAppliance(each, nameOf(each))),
      ),
    ];
  });
  return [...visits, ...inside];
}
