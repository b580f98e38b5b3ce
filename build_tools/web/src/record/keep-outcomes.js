/** Keeps in the record what steps say of its readings, and keeps it right when a reading changes. */

import { outcomes } from '../client/shared-client.js';
import { digest } from '../lib/digest.js';
import { thisEdition } from '../lib/edition.js';
import { readLocal, writeLocal } from '../lib/local-storage.js';
import { today } from '../lib/written-day.js';
import { withOwn } from '../own/with-own.js';
import { instrumentKey, keptInstrument, sameInstrument } from '../visit/kept-instrument.js';
import { keptOutcome, outcomeKey, sameOutcome } from '../visit/kept-outcome.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow } from '../visit/visit-answers.js';

/** @typedef {import('../protocol/bridge-types.js').StepOutcome} StepOutcome */
/** @typedef {import('../visit/visit-types.js').KeptOutcome} KeptOutcome */

/** @typedef {import('../visit/appliances.js').ApplianceEntries} ApplianceEntries */
/** @typedef {{of: string, readings: Map<string, string>}} Seen what they were judged by, and each */

/**
 * By appliance a digest of the readings that were judged last, on any page, and of what they were
 * judged by. The same digest needs no Python. It is no copy: nothing of a visit stays when that is
 * deleted.
 */
const JUDGED = 'hb:judged';

/** @type {Map<string, Seen>} by appliance: what its steps were asked with last */
const seen = new Map();
let isAsking = false;

/** After each change of the record: the steps that take what has changed are asked anew. */
export async function keepOutcomes() {
  if (isAsking || !openVisit.isRead || openVisit.storageError || !openVisit.visit) return;
  // What all share, as the gas, is a limit of each appliance: each is judged by its own plate.
  for (const { id } of openVisit.appliances) {
    const asked = await keepOutcomesOf(openVisit.of(id));
    if (asked) return void keepOutcomes(); // what changed meanwhile
  }
}

/** @param {ApplianceEntries} entries @returns {Promise<boolean>} whether anything was asked */
async function keepOutcomesOf(entries) {
  const { appliance } = entries;
  const answers = answersNow(entries);
  const edition = thisEdition()?.name ?? '';
  // Another gas, another copy or another edition is another limit: then every step is asked anew.
  const of = JSON.stringify([openVisit.visit?.id, edition, answers, withOwn()]);
  const typed = entries.entries.flatMap((each) => (each.kind === 'reading' ? [each] : []));
  const now = new Map(typed.map(({ name, value, unit }) => [name, `${value} ${unit}`]));
  const judging = digest(JSON.stringify([of, [...now].sort()]));
  const last = seen.get(appliance);
  const unlike = () => new Map(outcomesIn(entries).map(({ reading }) => [reading, '']));
  const before = last?.of === of ? last.readings : judged()[appliance] === judging ? now : unlike();
  const changed = [...new Set([...now.keys(), ...before.keys()])].filter(
    (name) => now.get(name) !== before.get(name),
  );
  seen.set(appliance, { of, readings: now });
  if (!changed.length) return false;
  isAsking = true;
  try {
    const cells = typed.map(({ name, value, unit }) => [name, { value, unit }]);
    const request = { action: /** @type {const} */ ('outcomes'), today: today(), changed };
    const asked = {
      ...request,
      readings: Object.fromEntries(cells),
      answers,
      ...withOwn(),
    };
    const reply = await outcomes(asked, () => {});
    if (seen.get(appliance)?.of === of && reply.outcomes) {
      await keep(reply.outcomes, appliance);
      writeLocal(JUDGED, JSON.stringify({ ...judged(), [appliance]: judging }));
    }
  } catch {
    // Asked again at the next change, or on the next page.
    if (last) seen.set(appliance, { ...last, readings: before });
    else seen.delete(appliance);
    return false;
  } finally {
    isAsking = false;
  }
  return true;
}

/** @param {ApplianceEntries} of also of readings that have been taken out since */
const outcomesIn = ({ entries }) =>
  entries.flatMap((each) => (each.kind === 'outcome' ? [each] : []));

/** @returns {Record<string, unknown>} the digest of each appliance */
function judged() {
  try {
    return JSON.parse(readLocal(JUDGED) ?? '{}') ?? {};
  } catch {
    return {};
  }
}

/** @param {Record<string, StepOutcome>} found @param {string} appliance */
async function keep(found, appliance) {
  const about = { edition: thisEdition()?.name ?? '', at: new Date().toISOString() };
  const there = openVisit.of(appliance);
  /** @type {KeptOutcome[]} */ const fresh = [];
  /** @type {string[]} */ const gone = [];
  for (const [step, outcome] of Object.entries(found)) {
    const kept = there.entry(outcomeKey({ step }));
    const next = keptOutcome(step, outcome, about);
    if (!next) {
      if (kept) gone.push(outcomeKey({ step }));
    } else if (kept?.kind !== 'outcome' || !sameOutcome(kept, next)) fresh.push(next);
  }
  const instruments = instrumentsOf(found, there, about.at);
  if (!fresh.length && !gone.length && !instruments.length) return;
  await openVisit.keep(
    (visit) => [
      ...fresh.map((each) => ({
        ...{ visit, key: outcomeKey(each), kind: /** @type {const} */ ('outcome') },
        ...each,
      })),
      ...instruments.map((each) => ({ visit, ...each })),
    ],
    gone,
    appliance,
  );
}

/**
 * A copy of each of the reader's instruments that took a reading, as it was then.
 *
 * @param {Record<string, StepOutcome>} found
 * @param {ApplianceEntries} there
 * @param {string} at
 */
function instrumentsOf(found, there, at) {
  const used = Object.values(found).flatMap(({ own }) => own?.instruments ?? []);
  const fresh = new Map(used.map((each) => [instrumentKey(each), keptInstrument(each, at)]));
  return [...fresh]
    .map(([key, each]) => ({ key, ...each }))
    .filter((each) => !sameInstrument(there.entry(each.key), each));
}

export function startKeepingOutcomes() {
  document.addEventListener('hb:visit', () => void keepOutcomes());
}
