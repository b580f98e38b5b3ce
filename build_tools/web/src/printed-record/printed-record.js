/** The record on paper: two sides of A4 for an appliance, made when the page is to be printed. */

import { SHARED } from '../lib/appliance-key.js';
import { editionWords, thisEdition } from '../lib/edition.js';
import { momentInWords } from '../lib/written-day.js';
import { labelIn, linesOf } from '../record/visit-view.js';
import { ownerOf } from '../visit/appliances.js';
import { withoutOldFit } from '../visit/kept-fit.js';
import { openVisit } from '../visit/open-visit.js';
import { unitsOf } from './sections.js';
import { laySides } from './sides.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */
/** @typedef {import('./printed-facts.js').Held} Held */
/** @typedef {import('./printed-facts.js').PrintedFacts} PrintedFacts */

/** @param {HTMLElement} root the record's page: its sides stand last in it until they are printed */
export function layPrinted(root) {
  clearPrinted(root);
  const facts = factsOf(root);
  if (!facts || !openVisit.visit || root.hasAttribute('data-hb-blank')) return;
  const place = document.createElement('div');
  place.className = 'hb-printed';
  place.dataset.hbPrinted = '';
  place.setAttribute('aria-hidden', 'true'); // the page itself says all of it
  root.append(place);
  const known = knownReadings(root);
  const edition = thisEdition();
  const foot = [
    facts.foot,
    edition && `Edition of ${editionWords(edition.name)}.`,
    'Kept on this device only.',
  ];
  for (const held of allHeld()) {
    const told = { head: headWords(), title: held.title, foot: foot.filter(Boolean).join(' ') };
    laySides(place, told, unitsOf(held, facts, known));
  }
}

/** @param {HTMLElement} root */
export function clearPrinted(root) {
  root.querySelector('[data-hb-printed]')?.remove();
}

/** @param {HTMLElement} root @returns {PrintedFacts | null} */
function factsOf(root) {
  const found = root.querySelector('[data-hb-printed-facts]');
  return found ? JSON.parse(found.getAttribute('value') ?? 'null') : null;
}

/** @param {HTMLElement} root */
function knownReadings(root) {
  return new Map(
    [...linesOf(root)].map(([name, line]) => {
      const title = line.closest('details')?.querySelector('summary')?.firstChild?.textContent;
      return [name, { label: labelIn(line), group: title?.trim() ?? '' }];
    }),
  );
}

function headWords() {
  const { visit } = openVisit;
  // What a step says of a reading is worked out anew whenever the record is looked at.
  const last = openVisit.allEntries
    .filter(({ kind }) => kind !== 'outcome')
    .map(({ at }) => at)
    .sort()
    .at(-1);
  const end = visit?.closed ?? last ?? visit?.begun ?? '';
  const begun = momentInWords(new Date(visit?.begun ?? end)).replace(' at ', ', ');
  return `Record of a visit · ${begun} to ${momentInWords(new Date(end)).split(' at ')[1] ?? ''}`;
}

/** @returns {Held[]} what all share once, where there are several appliances, then each of them */
function allHeld() {
  const { appliances, allEntries, visit } = openVisit;
  const name = visit?.name ?? '';
  const of = (/** @type {string} */ id) => allEntries.filter((entry) => ownerOf(entry) === id);
  if (appliances.length < 2) return [heldOf(name, allEntries, true)];
  const shared = of(SHARED);
  return [
    ...(shared.length ? [heldOf(`${name} · what all share`, shared, false)] : []),
    ...appliances.map(({ id, name: own }, number) =>
      heldOf(`${own} · appliance ${number + 1} of ${appliances.length}`, of(id), true),
    ),
  ];
}

/** @param {string} title @param {Entry[]} entries @param {boolean} isSigned @returns {Held} */
function heldOf(title, entries, isSigned) {
  /** @type {Held} */
  const held = {
    ...{ title, isSigned, readings: new Map(), notes: new Map() },
    ...{
      outcomes: [],
      claimed: new Set(),
      answers: [],
      choices: [],
      marks: [],
      instruments: [],
      person: personWords(),
    },
  };
  for (const entry of withoutOldFit(entries, openVisit.allEntries)) {
    if (entry.kind === 'reading') held.readings.set(entry.name, entry);
    else if (entry.kind === 'note') held.notes.set(entry.name, entry);
    else if (entry.kind === 'outcome') held.outcomes.push(entry);
    else if (entry.kind === 'answer') held.answers.push(entry);
    else if (entry.kind === 'choice') held.choices.push(entry);
    else if (entry.kind === 'check') held.marks.push(entry);
    else if (entry.kind === 'instrument') held.instruments.push(entry);
  }
  return held;
}

/** The line of the page that says who worked. */
function personWords() {
  const line = document.querySelector('[data-hb-person-line]:not([hidden])');
  return line?.textContent ?? '';
}
