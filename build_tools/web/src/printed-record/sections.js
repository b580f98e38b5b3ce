/** What stands on the sides of paper, in order. What was not read has no place and no heading. */

import { writtenDay } from '../lib/written-day.js';
import { AS_LEFT, checkOf, claimedBy, lineOf, ownLine } from './lines.js';
import { box, columns, entry, heading, lineUnit, paragraph, words } from './marks.js';
import { summaryOf } from './summary.js';

/** @typedef {import('./lines.js').Check} Check */
/** @typedef {import('./marks.js').Unit} Unit */
/** @typedef {import('./printed-facts.js').Held} Held */
/** @typedef {import('./printed-facts.js').Line} Line */
/** @typedef {import('./printed-facts.js').PrintedFacts} PrintedFacts */
/** @typedef {Map<string, {label: string, group: string}>} Known readings, in the order of the record */

const STATED = /^(plate|instructions)\./;
/** @type {<T>(each: T | null) => each is T} */
const isThere = (each) => each !== null;

/**
 * @param {Held} held
 * @param {PrintedFacts} facts
 * @param {Known} known
 * @returns {Unit[]}
 */
export function unitsOf(held, facts, known) {
  held.claimed = claimedBy([...facts.groups.flatMap(({ rows }) => rows), ...facts.heatInput]);
  const groups = readingGroups(held, facts, known);
  const heat = facts.heatInput.map((row) => lineOf(held, row)).filter(isThere);
  const lines = [...groups.flatMap((group) => group.lines), ...heat];
  const checks = facts.checks
    .map((name) => checkOf(held, name, known.get(name)?.label ?? name))
    .filter(isThere);
  const rest = [
    ...heatInput(heat),
    ...looked(checks),
    ...notInOrder(held, lines, checks),
    ...noticeOf(held),
    ...written(held),
    ...workedOut(held),
    ...(held.isSigned ? closing(facts, held.person) : []),
  ];
  return [
    ...plate(held, facts, known),
    ...summaryOf(lines, checks),
    ...readings(groups),
    // What all appliances share is no form of its own: it takes one side where it fits.
    ...(held.isSigned ? second(rest) : rest),
  ];
}

/** @param {Unit[]} units @returns {Unit[]} the first of which begins the second side */
const second = ([first, ...rest]) => (first ? [{ ...first, side2: true }, ...rest] : []);

/** @param {Held} held @param {PrintedFacts} facts @param {Known} known @returns {Unit[]} */
function plate({ readings, notes, choices }, { questions }, known) {
  const cells = [
    ...choices.flatMap(({ name, value }) => {
      const asked = questions[name];
      return asked ? [[asked.label, asked.options[value] ?? value]] : [];
    }),
    ...[...known].flatMap(([name, { label }]) => {
      const read = STATED.test(name) ? readings.get(name) : undefined;
      return read ? [[label, `${read.value} ${read.unit}`.trim()]] : [];
    }),
  ];
  const told = notes.get('appliance')?.text;
  const first = told ? [{ node: box('appliance', told) }] : [];
  if (!cells.length) return first;
  const made = cells.map(([label = '', text = '']) => box('cell', words(label), words(text, 'b')));
  return [...first, { node: box('plate', ...made) }];
}

/** @param {Held} held @param {PrintedFacts} facts @param {Known} known */
function readingGroups(held, facts, known) {
  const rows = [...facts.groups.flatMap((group) => group.rows), ...facts.heatInput];
  const named = new Set(rows.flatMap(({ found, left }) => [...found, ...left]));
  for (const check of facts.checks) {
    named.add(check);
    named.add(`${check}${AS_LEFT}`);
  }
  const groups = facts.groups.map(({ title, rows: own }) => ({
    title,
    lines: own.map((row) => lineOf(held, row)).filter(isThere),
  }));
  for (const name of held.readings.keys()) {
    if (named.has(name) || STATED.test(name)) continue;
    const { label, group } = known.get(name) ?? {
      label: held.readings.get(name)?.label ?? name,
      group: 'Others',
    };
    const line = ownLine(held, name, label);
    const there = groups.find(({ title }) => title === group);
    if (!line) continue;
    if (there) there.lines.push(line);
    else groups.push({ title: group, lines: [line] });
  }
  return groups.filter(({ lines }) => lines.length);
}

const COLUMNS = ['Reading', 'As found', 'As left', 'Held to', 'From', 'Outcome'];

/** @param {{title: string, lines: Line[]}[]} groups @returns {Unit[]} */
function readings(groups) {
  if (!groups.length) return [];
  const all = groups.flatMap(({ title, lines }) => [
    { node: box('group', words(title, 'b')), keep: true, isReading: true },
    ...lines.map(lineUnit),
  ]);
  return [columns(COLUMNS), ...all];
}

/** @param {Line[]} lines @returns {Unit[]} */
function heatInput(lines) {
  if (!lines.length) return [];
  return [heading('Gas rate and heat input'), ...lines.map(lineUnit).map(({ node }) => ({ node }))];
}

/** @param {Check[]} checks two to a line @returns {Unit[]} */
function looked(checks) {
  if (!checks.length) return [];
  const made = checks.map(({ label, word, isInOrder }) =>
    box('check', words(label), box(isInOrder ? 'word' : 'word hb-printed__word--no', word)),
  );
  const pairs = made.flatMap((_each, place) =>
    place % 2 ? [] : [{ node: box('pair', ...made.slice(place, place + 2)) }],
  );
  return [heading('Looked at and tried'), ...pairs];
}

const OUT = new Set(['outside', 'too_close', 'refused']);

/** @param {Held} held @param {Line[]} lines @param {Check[]} checks @returns {Unit[]} */
function notInOrder({ notes }, lines, checks) {
  const out = lines.filter(
    ({ found, left }) => OUT.has(found?.state ?? '') || OUT.has(left?.state ?? ''),
  );
  const units = [
    ...checks
      .filter(({ isInOrder }) => !isInOrder)
      .map(({ label, word, told }) => entry(label, `${large(word)}. ${told}`)),
    ...out.map((line) => entry(line.label, toldOf(line))),
    ...['defects', 'done', 'not_done'].flatMap((name) => {
      const note = notes.get(name);
      return note ? [entry(note.label, note.text)] : [];
    }),
  ];
  return units.length ? [heading('Not in order, and what was done'), ...units] : [];
}

/** @param {Line} line */
function toldOf({ found, left }) {
  const side = (/** @type {string} */ word, /** @type {typeof found} */ cell) =>
    cell ? [`${word} ${cell.text}${cell.told ? `: ${small(cell.told)}` : '.'}`] : [];
  return [...side('Found', found), ...side('Left', left)].join(' ');
}

/** @param {string} text */
const large = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {string} text a formula such as CO₂ keeps its letters */
const small = (text) =>
  /^\p{Lu}\p{Lu}/u.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1);

/** @param {Held} held what was advised, with what was left out, and by which instruments @returns {Unit[]} */
function written({ notes, marks, instruments }) {
  const left = marks
    .filter(({ state }) => state === 'left_out')
    .map(({ name, reason }) => entry(`Left out: ${name.replaceAll('_', ' ')}`, reason));
  const told = ['advice', 'instruments'].flatMap((name) => {
    const note = notes.get(name);
    return note ? [entry(note.label, note.text)] : [];
  });
  const units = [...told, ...instruments.map(instrumentUnit), ...left];
  return units.length ? [heading('Advice and instruments'), ...units] : [];
}

const NOTICE = ['unsafe_situation', 'unsafe_told', 'unsafe_known', 'unsafe_report_by'];

/** @param {Held} held @returns {Unit[]} */
function noticeOf({ notes }) {
  const units = NOTICE.flatMap((name) => {
    const note = notes.get(name);
    return note ? [entry(note.label, writtenDay(note.text))] : [];
  });
  const title = 'Unsafe situation: a draft and arithmetic, not the notice itself';
  return units.length ? [heading(title), ...units] : [];
}

/** @param {Held['instruments'][number]} instrument @returns {Unit} */
function instrumentUnit({ name, serial, resolution, accuracy, calibrated_until: until }) {
  const told = [
    serial && `Number ${serial}`,
    resolution && `steps of ${resolution}`,
    accuracy && `accurate to ${accuracy}`,
    until ? `calibrated until ${writtenDay(until)}` : 'no day of calibration was typed',
  ];
  return entry(name, `${told.filter(Boolean).join(', ')}.`);
}

/** @param {Held} held answers that were kept by hand @returns {Unit[]} */
function workedOut({ answers }) {
  if (!answers.length) return [];
  const told = answers.map(({ title, where, answers: figures, verdicts }) => {
    const texts = [
      ...figures.map(({ label, text, uncertainty }) => `${label} ${text} ${uncertainty}`.trim()),
      ...verdicts.map(({ label, text }) => `${label}: ${text}`),
    ];
    return entry(title, [where, ...texts].filter(Boolean).join('. '));
  });
  return [heading('Answers that were kept'), ...told];
}

/** @param {PrintedFacts} facts @param {string} person @returns {Unit[]} */
function closing({ sure, cautions, signed }, person) {
  return [
    heading('How sure the readings are, and cautions'),
    paragraph([...sure, ...cautions].join(' ')),
    ...(person ? [paragraph(person)] : []),
    { node: box('signed', ...signed.map((text) => box('sign', words(text)))) },
  ];
}
