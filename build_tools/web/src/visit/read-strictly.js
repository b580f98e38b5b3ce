/** Reads a file that a page exported strictly: either all of it is right, or every problem is told. */

import { check } from './schema-check.js';

/** @typedef {import('./schema-check.js').Problem} Problem */
/** @typedef {import('./schema-check.js').Schema} Schema */

/** Lists and groups inside one another: the form has 7. A reader that follows more can be worn out. */
const DEEPEST = 20;

/** Visits began with the handbook, which is younger. The clocks of two devices differ by a little. */
const EARLIEST = Date.UTC(2000, 0, 1);
const CLOCKS_DIFFER_MS = 2 * 24 * 3600 * 1000;

const ANOTHER = 'Choose a file that this page exported.';
const WHOLE = 'Export it again, and take the whole file.';

/**
 * @template T
 * @param {string} text
 * @param {Schema} schema of the file, with `format` and `version`
 * @param {object} own
 * @param {(value: any) => void} [own.upgrade] brings an older version up to this one
 * @param {(value: any) => Problem[]} own.more what no schema can say
 * @param {number} now nothing in it is later than that
 * @returns {{file: T, problems?: undefined} | {problems: Problem[], file?: undefined}}
 */
export function readStrictly(text, schema, { upgrade, more }, now) {
  /** @type {any} */
  let value;
  if (isTooDeep(text)) {
    const found = `lists and groups more than ${DEEPEST} deep inside one another`;
    return refused('the file', found, `at most ${DEEPEST}`, ANOTHER);
  }
  try {
    value = JSON.parse(text);
  } catch (error) {
    return refused(
      'the file',
      reasonOf(error),
      'JSON text from the first letter to the last',
      WHOLE,
    );
  }
  const { format, version } = schema.properties;
  if (value === null || typeof value !== 'object' || value.format !== format.const) {
    return refused('format', said(value?.format), `“${format.const}”`, ANOTHER);
  }
  if (typeof value.version === 'number' && value.version > version.const) {
    const fix = 'Get the newest edition of the handbook, and import it there.';
    return refused('version', said(value.version), `version ${version.const} or older`, fix);
  }
  upgrade?.(value);
  // What the schema has said of already is not said again.
  const form = new RegExp(schema.$defs.time.pattern, 'u');
  const problems = [
    ...check(value, schema, schema.$defs),
    ...more(value),
    ...noTimes(value, form, now + CLOCKS_DIFFER_MS),
  ];
  return problems.length ? { problems } : { file: value };
}

/**
 * @param {string} where
 * @param {string} found
 * @param {string} expected
 * @param {string} fix
 */
const refused = (where, found, expected, fix) => ({ problems: [{ where, found, expected, fix }] });

/** @param {unknown} value @returns {string} */
export function said(value) {
  return value === undefined ? 'nothing' : JSON.stringify(value).slice(0, 60);
}

/**
 * @param {string} text brackets in the texts that it holds do not count
 * @returns {boolean}
 */
function isTooDeep(text) {
  let depth = 0;
  for (const [found] of text.matchAll(/"(?:[^"\\]|\\[\s\S])*"|[[{]|[\]}]/gu)) {
    if (found === '[' || found === '{') depth += 1;
    else if (found === ']' || found === '}') depth -= 1;
    if (depth > DEEPEST) return true;
  }
  return false;
}

/** @param {unknown} error */
const reasonOf = (error) =>
  `it can't be read (${error instanceof Error ? error.message.slice(0, 120) : 'damaged'})`;

/**
 * @param {unknown} list
 * @param {string} where
 * @param {(item: any) => unknown} nameOf
 * @returns {Problem[]}
 */
export function repeated(list, where, nameOf) {
  const seen = new Set();
  return listIn(list).flatMap((item, number) => {
    const name = item !== null && typeof item === 'object' ? nameOf(item) : undefined;
    const again = name !== undefined && seen.has(name);
    seen.add(name);
    const found = `${said(name)} for the second time`;
    const fix = 'Delete one of the two.';
    return again ? [{ where: `${where}[${number}]`, found, expected: 'each once', fix }] : [];
  });
}

/** @param {unknown} each @returns {any[]} */
export const listIn = (each) => (Array.isArray(each) ? each : []);

const TIMES = new Set(['written', 'begun', 'closed', 'at']);

/**
 * A time may have the form of one and be none: the 45th of a 13th month would stop the page, and
 * the 30th of February would become a day of March.
 *
 * @param {unknown} value
 * @param {RegExp} form of a time
 * @param {number} latest
 * @param {string} [where]
 * @returns {Problem[]}
 */
function noTimes(value, form, latest, where = '') {
  if (value === null || typeof value !== 'object') return [];
  const isList = Array.isArray(value);
  return Object.entries(value).flatMap(([key, each]) => {
    const place = isList ? `${where}[${key}]` : [where, key].filter(Boolean).join('.');
    const isTime = !isList && TIMES.has(key) && typeof each === 'string' && form.test(each);
    if (!isTime) return noTimes(each, form, latest, place);
    const [expected, fix] = wrongTime(each, latest) ?? [];
    return expected && fix ? [{ where: place, found: said(each), expected, fix }] : [];
  });
}

/** @param {string} iso @param {number} latest @returns {[expected: string, fix: string] | null} */
function wrongTime(iso, latest) {
  const moment = Date.parse(iso);
  const isThere =
    !Number.isNaN(moment) && new Date(moment).toISOString().slice(0, 10) === iso.slice(0, 10);
  if (!isThere) return ['a day and a time that there are', 'Put the time right.'];
  if (moment < EARLIEST) return ['a day from the year 2000 on', 'Put the time right.'];
  if (moment <= latest) return null;
  return ['a time that has been', 'Put the time right, or the clock of this device.'];
}
