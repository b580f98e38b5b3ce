/** The ticks of the steps go into the visit, and come from it: those of the appliance worked on. */

import { plainKey } from '../lib/appliance-key.js';
import { readLocal, writeLocal } from '../lib/local-storage.js';
import { TICKS, TICKS_LEFT, TICKS_OF } from '../lib/tick-places.js';
import { openVisit } from '../visit/open-visit.js';
import { pending } from '../visit/pending.js';

/** @typedef {import('../visit/visit-types.js').Visit} Visit */

/** Ticks that were made before a visit was open are of a visit that was begun on that day. */
const SAME_JOB_MS = 12 * 3600 * 1000;

/** @returns {string[]} as `procedure.step` */
const shown = () => (readLocal(TICKS) ?? '').split(' ').filter(Boolean);

/** After each change of the record: the page has the ticks of the visit, and what is still on its way. */
export function showKeptTicks() {
  if (!openVisit.isRead || openVisit.storageError) return;
  const { visit, appliance, applianceName } = openVisit;
  const was = readLocal(TICKS_OF);
  if (!visit && was === null) return; // they were made without a visit
  const loose = visit && was === null ? looseOf(visit) : [];
  if (loose.length) void adopt(loose);
  const of = visit && `${visit.id} ${appliance} ${applianceName}`;
  const names = visit ? new Set([...ticksNow(), ...loose]) : [];
  const text = [...names].join(' ') || null;
  if (text === readLocal(TICKS) && of === was) return;
  writeLocal(TICKS, text);
  writeLocal(TICKS_OF, of);
  document.dispatchEvent(new CustomEvent('hb:ticks'));
}

/** @returns {Set<string>} */
function ticksNow() {
  const names = openVisit.entries.flatMap((each) =>
    each.kind === 'tick' ? [`${each.procedure}.${each.step}`] : [],
  );
  const all = new Set(names);
  const leaving = pending.left().filter(({ place }) => place === TICKS_LEFT);
  for (const { visit, key, entry } of leaving.flatMap(({ typed }) => typed)) {
    const plain = plainKey(key);
    if (visit !== openVisit.visit?.id || key !== openVisit.keyNow(plain)) continue;
    const name = plain.slice('tick:'.length);
    if (entry) all.add(name);
    else all.delete(name);
  }
  return all;
}

/** @param {Visit} visit @returns {string[]} what was ticked just before it was begun */
const looseOf = ({ begun }) => (Date.now() - Date.parse(begun) > SAME_JOB_MS ? [] : shown());

/** @param {string[]} names of steps that the visit takes in */
async function adopt(names) {
  const at = new Date().toISOString();
  const fresh = names.flatMap((name) => {
    const [procedure, step] = name.split('.');
    return procedure && step ? [{ procedure, step, at }] : [];
  });
  await openVisit
    .keep((visit) =>
      fresh.map((each) => ({
        ...{
          visit,
          key: `tick:${each.procedure}.${each.step}`,
          kind: /** @type {const} */ ('tick'),
        },
        ...each,
      })),
    )
    .catch(() => {});
}

export function startKeepingTicks() {
  document.addEventListener('hb:ticked', () => void openVisit.keepLeft());
}
