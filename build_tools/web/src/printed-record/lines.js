/** What was read, as lines of paper: found beside left, each with its own outcome. No page is asked. */

import { wholeText } from '../visit/reading-text.js';

/** @typedef {import('../visit/visit-types.js').KeptOutcome} KeptOutcome */
/** @typedef {import('./printed-facts.js').Cell} Cell */
/** @typedef {import('./printed-facts.js').Held} Held */
/** @typedef {import('./printed-facts.js').Line} Line */
/** @typedef {import('./printed-facts.js').Row} Row */

/** The gravest first. A reading that can't be so is one that nothing says is in order. */
const STATES = ['outside', 'too_close', 'refused', 'not_judged', 'within'];
/** @type {Record<string, string>} */
const WORDS = {
  within: 'Within',
  outside: 'Outside',
  too_close: 'Too close',
  not_judged: 'Not judged',
  refused: 'Not usable',
};
const IS_LEFT = /(^|[._])(left|cover_on)([._]|$)/;
export const AS_LEFT = '_left';

/** @param {KeptOutcome[]} outcomes @returns {KeptOutcome | undefined} */
export const gravest = (outcomes) =>
  outcomes.toSorted((one, other) => STATES.indexOf(one.state) - STATES.indexOf(other.state))[0];

/** @param {Held} held @param {string} name @returns {KeptOutcome[]} those beside a reading */
const beside = ({ outcomes, claimed }, name) =>
  outcomes.filter(({ reading, step }) => reading === name && !claimed.has(step));

/** @param {Row[]} rows @returns {Set<string>} steps whose outcomes stand in a row that names them */
export const claimedBy = (rows) =>
  new Set(
    rows
      .filter(takesOutcomes)
      .flatMap(({ found_in, left_in, else_in, claims }) => [
        ...[found_in, left_in, else_in].filter((step) => step !== undefined),
        ...claims,
      ]),
  );

/** @param {Row} row */
const takesOutcomes = ({ figure, judged }) => !figure || judged === true;

/**
 * A row of which something was read.
 *
 * @param {Held} held
 * @param {Row} row
 * @returns {Line | null}
 */
export function lineOf(held, row) {
  const found = sideOf(held, row, row.found, row.found_in);
  const left =
    sideOf(held, row, row.left, row.left_in, row.claims) ??
    sideOf(held, row, [], row.else_in, row.claims);
  if (!found && !left) return null;
  const judged = left?.outcome ?? found?.outcome;
  const state = judged?.state ?? '';
  const wasOut = found?.outcome?.state === 'outside' && left?.outcome?.state === 'within';
  const [held_to = '', from = ''] = (judged?.held_to ?? '').split(' · ');
  return {
    label: row.label,
    found: found?.cell ?? null,
    left: left?.cell ?? null,
    limit: judged?.verdicts[0]?.limit || held_to,
    from,
    state,
    word: wasOut ? 'Left within' : (WORDS[state] ?? ''),
  };
}

/**
 * @param {Held} held
 * @param {Row} row
 * @param {string[]} names
 * @param {string} [step]
 * @param {string[]} [claims]
 * @returns {{cell: Cell, outcome: KeptOutcome | undefined} | null}
 */
function sideOf(held, row, names, step, claims = []) {
  const ofStep = held.outcomes.filter((each) => each.step === step);
  const text = row.figure ? figureOf(row, ofStep) : readText(held, names, row.between);
  if (!text) return null;
  const claimed = held.outcomes.filter((each) => claims.includes(each.step));
  const counted = takesOutcomes(row) ? [...ofStep, ...claimed] : [];
  const outcome = gravest([...counted, ...names.flatMap((name) => beside(held, name))]);
  return { cell: { text, state: outcome?.state ?? '', told: outcome?.text ?? '' }, outcome };
}

/** What was asked of readings that can't be so, and has no figure: it is no less open for that. */
const NO_FIGURE = 'none';
const IS_OPEN = new Set(['refused', 'not_judged']);

/** @param {Row} row @param {KeptOutcome[]} ofStep */
function figureOf(row, ofStep) {
  const text = figureText(ofStep, row.figure ?? '');
  const isOpen = row.judged === true && ofStep.some(({ state }) => IS_OPEN.has(state));
  return text || (isOpen ? NO_FIGURE : '');
}

/** @param {KeptOutcome[]} outcomes @param {string} label */
function figureText(outcomes, label) {
  const found = outcomes.flatMap(({ figures }) => figures ?? []);
  const figure = found.find((each) => each.label === label);
  return figure ? [figure.text, figure.uncertainty].filter(Boolean).join(' ') : '';
}

/** @param {Held} held @param {string[]} names @param {string} between */
function readText({ readings }, names, between) {
  const read = names.flatMap((name) => readings.get(name) ?? []);
  const [first] = read;
  if (!first) return '';
  const join = between === ',' ? ', ' : ` ${between} `;
  if (!first.unit || !read.every(({ unit }) => unit === first.unit)) {
    return read.map(wholeText).join(join);
  }
  return wholeText({ ...first, value: read.map(({ value }) => value).join(join) });
}

/**
 * A reading that no row names.
 *
 * @param {Held} held
 * @param {string} name
 * @param {string} label
 * @returns {Line | null}
 */
export function ownLine(held, name, label) {
  const side = IS_LEFT.test(name) ? { found: [], left: [name] } : { found: [name], left: [] };
  return lineOf(held, { label, between: 'to', claims: [], ...side });
}

/** @typedef {{label: string, word: string, state: string, isInOrder: boolean, told: string}} Check */

/**
 * A check by its word: what was put right shows what was found too.
 *
 * @param {Held} held
 * @param {string} name
 * @param {string} label
 * @returns {Check | null}
 */
export function checkOf(held, name, label) {
  const words = [name, `${name}${AS_LEFT}`].map((each) => held.readings.get(each)?.value ?? '');
  const [found = '', left = ''] = words;
  if (!found && !left) return null;
  const outcomes = [...beside(held, name), ...beside(held, `${name}${AS_LEFT}`)];
  const now = gravest(outcomes.filter(({ step }) => !isPast(step)));
  const state = now?.state ?? '';
  return {
    label,
    word: found && left && found !== left ? `${found}, then ${left}` : left || found,
    state,
    isInOrder: !outcomes.some((each) => each.state === 'outside'),
    told: state === 'outside' ? `Not in order. ${now?.act}` : 'Put right, and looked at again.',
  };
}

/** @param {string} step */
const isPast = (step) => step.endsWith('.found');
