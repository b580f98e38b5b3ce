/** Asks whether the readings of one appliance fit each other. */

import { fitOf } from '../client/shared-client.js';
import { today } from '../lib/written-day.js';
import { withOwn } from '../own/with-own.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow } from '../visit/visit-answers.js';

/** What is kept one by one is asked about once it rests. */
export const REST_MS = 250;

/** @typedef {import('../protocol/bridge-types.js').Fit} Fit */
/** @typedef {import('../protocol/bridge-types.js').FitRequest} FitRequest */

/** @param {string} appliance @returns {FitRequest} by all that the visit has of it now */
export function fitRequest(appliance) {
  const of = openVisit.of(appliance);
  const readings = of.entries.flatMap((each) =>
    each.kind === 'reading' ? [[each.name, { value: each.value, unit: each.unit }]] : [],
  );
  return {
    ...{ action: 'cross_check', today: today(), answers: answersNow(of) },
    ...{ readings: Object.fromEntries(readings), appliances: openVisit.appliances.length },
    ...withOwn(),
  };
}

/** @param {FitRequest} question @returns {Promise<Fit>} @throws where there is no answer */
export async function askFit(question) {
  const { cross_check: fit } = await fitOf(question);
  if (!fit) throw new Error('There is no answer.');
  return fit;
}
