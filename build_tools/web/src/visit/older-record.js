/** What an earlier edition kept on the device or wrote into a file, in the form of this one. */

import { FIRST, SHARED } from '../lib/appliance-key.js';
import { firstAppliance, isShared } from './appliances.js';
import { PARTS } from './whole-visit.js';

/** Version of files in which the provenance of a verdict was called its standing. */
const WITH_STANDING = 1;
/** The last version in which steps said nothing of what was read. */
const WITHOUT_OUTCOMES = 2;
/** The last version in which a visit had one appliance. */
const ONE_APPLIANCE = 3;

/** @param {any} each @returns {any[]} of a file that may be damaged */
const listOf = (each) => (Array.isArray(each) ? each : []);

/** @param {any} each */
const isGroup = (each) => each !== null && typeof each === 'object' && !Array.isArray(each);

/** @param {any} answer as it was kept, or as it stands in a file: it is changed */
export function withProvenance(answer) {
  for (const verdict of listOf(answer?.verdicts)) {
    if (verdict === null || typeof verdict !== 'object') continue;
    if (!('standing' in verdict) || 'provenance' in verdict) continue;
    verdict.provenance = verdict.standing;
    delete verdict.standing;
  }
}

/** Stands where a damaged file does not say when a visit was begun: that is told of `begun` alone. */
const NO_DAY = '2000-01-01T00:00:00Z';

/** @param {any} visit the head of one, as it was kept or as it stands in a file: it is changed */
export function withAppliances(visit) {
  const isDay = typeof visit.begun === 'string' && !Number.isNaN(Date.parse(visit.begun));
  visit.appliances ??= firstAppliance(isDay ? visit.begun : NO_DAY);
}

/** @param {any} visit of a file, in which nothing says whose it is: it is changed */
function withOwners(visit) {
  for (const [part, { keyOf }] of Object.entries(PARTS)) {
    for (const each of listOf(visit[part])) {
      if (isGroup(each)) each.appliance ??= isShared(keyOf(each)) ? SHARED : FIRST;
    }
  }
}

/**
 * Brings a file of an older version up to this one. What is damaged in it stays so, and is told.
 *
 * @param {any} file parsed
 * @param {number} version of this edition
 */
export function upgradeFile(file, version) {
  const before = file.version;
  if (![WITH_STANDING, WITHOUT_OUTCOMES, ONE_APPLIANCE].includes(before)) return;
  for (const visit of listOf(file.visits)) {
    if (before === WITH_STANDING) listOf(visit?.answers).forEach(withProvenance);
    if (!isGroup(visit)) continue;
    if (before <= WITHOUT_OUTCOMES) {
      for (const part of ['outcomes', 'choices', 'checks']) visit[part] ??= [];
    }
    for (const outcome of listOf(visit.outcomes)) if (isGroup(outcome)) outcome.figures ??= [];
    visit.ticks ??= [];
    visit.instruments ??= [];
    withAppliances(visit);
    withOwners(visit);
  }
  file.version = version;
}
