/** Keeps in the record what steps say of its readings, and keeps it right when a reading changes. */

import { outcomes } from '../client/shared-client.js';
import { thisEdition } from '../lib/edition.js';
import { today } from '../lib/written-day.js';
import { keptOutcome, outcomeKey, sameOutcome } from '../visit/kept-outcome.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow } from '../visit/visit-answers.js';

/** @typedef {import('../protocol/bridge-types.js').StepOutcome} StepOutcome */
/** @typedef {import('../visit/visit-types.js').Entry} Entry */
/** @typedef {import('../visit/visit-types.js').KeptOutcome} KeptOutcome */

/** @type {string | null} the visit that `seen` is of */ let of = null;
/** @type {Map<string, string>} each reading as it was when its steps were asked last */
let seen = new Map();
let isAsking = false;

/** After each change of the record: the steps that take what has changed are asked anew. */
export async function keepOutcomes() {
  if (isAsking || !openVisit.isRead || openVisit.storageError || !openVisit.visit) return;
  // Another gas or another flue is another limit: then every step is asked anew.
  const id = JSON.stringify([openVisit.visit.id, answersNow()]);
  const readings = openVisit.entries.flatMap((each) => (each.kind === 'reading' ? [each] : []));
  const now = new Map(readings.map(({ name, value, unit }) => [name, `${value} ${unit}`]));
  const isAnew = of !== null && id !== of;
  const before = id === of ? seen : isAnew ? new Map() : asJudged();
  const changed = [...new Set([...now.keys(), ...before.keys()])].filter(
    (name) => now.get(name) !== before.get(name),
  );
  [of, seen] = [id, now];
  if (!changed.length) return;
  isAsking = true;
  try {
    const typed = readings.map(({ name, value, unit }) => [name, { value, unit }]);
    const request = { action: /** @type {const} */ ('outcomes'), today: today(), changed };
    const asked = { ...request, readings: Object.fromEntries(typed), answers: answersNow() };
    const reply = await outcomes(asked, () => {});
    if (of === id) await keep(reply.outcomes ?? {});
  } catch {
    seen = before; // asked again at the next change, or on the next page
  } finally {
    isAsking = false;
  }
  void keepOutcomes(); // what changed meanwhile
}

/**
 * What was judged when this page was not there: readings that have an outcome are taken to be as
 * they were, the others are asked for.
 */
function asJudged() {
  const judged = new Set(
    openVisit.entries.flatMap((each) => (each.kind === 'outcome' ? [each.reading] : [])),
  );
  return new Map(
    openVisit.entries.flatMap((each) =>
      each.kind === 'reading' && judged.has(each.name)
        ? [[each.name, `${each.value} ${each.unit}`]]
        : [],
    ),
  );
}

/** @param {Record<string, StepOutcome>} found */
async function keep(found) {
  const about = { edition: thisEdition()?.name ?? '', at: new Date().toISOString() };
  /** @type {KeptOutcome[]} */ const fresh = [];
  /** @type {string[]} */ const gone = [];
  for (const [step, outcome] of Object.entries(found)) {
    const kept = openVisit.entry(outcomeKey({ step }));
    const next = keptOutcome(step, outcome, about);
    if (!next) {
      if (kept) gone.push(outcomeKey({ step }));
    } else if (kept?.kind !== 'outcome' || !sameOutcome(kept, next)) fresh.push(next);
  }
  if (!fresh.length && !gone.length) return;
  await openVisit.keep(
    (visit) =>
      fresh.map((each) => ({
        ...{ visit, key: outcomeKey(each), kind: /** @type {const} */ ('outcome') },
        ...each,
      })),
    gone,
  );
}

export function startKeepingOutcomes() {
  document.addEventListener('hb:visit', () => void keepOutcomes());
}
