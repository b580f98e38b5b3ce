/**
 * Holds a value against the few forms that visit_record.schema.json is made of. A library that
 * knows all of JSON Schema would weigh more than the rest of the record, and tells its finds in
 * words for programmers.
 *
 * @typedef {{where: string, found: string, expected: string, fix: string}} Problem
 * @typedef {any} Schema
 */

const MENDED = 'Export it again; if it was changed by hand, put this right.';
const TYPES = {
  string: 'a text',
  array: 'a list',
  object: 'a group of named values',
  null: 'null',
  boolean: 'true or false',
};

/**
 * @param {unknown} value
 * @param {Schema} schema
 * @param {Record<string, Schema>} defs what `$ref` may name
 * @param {string} [where]
 * @returns {Problem[]} everything that is wrong
 */
export function check(value, schema, defs, where = '') {
  if (schema.$ref) return check(value, defs[schema.$ref.split('/').at(-1)], defs, where);
  if (schema.anyOf) return checkAny(value, schema.anyOf, defs, where);
  if ('const' in schema || schema.enum)
    return checkOne(value, schema.enum ?? [schema.const], where);
  if (typeOf(value) !== schema.type) return [problem(where, value, typeWords(schema.type))];
  if (schema.type === 'string') return checkText(/** @type {string} */ (value), schema, where);
  if (schema.type === 'array')
    return checkList(/** @type {unknown[]} */ (value), schema, defs, where);
  if (schema.type === 'object')
    return checkGroup(/** @type {object} */ (value), schema, defs, where);
  return [];
}

/** @param {unknown} value */
function typeOf(value) {
  if (value === null) return 'null';
  return Array.isArray(value) ? 'array' : typeof value;
}

/** @param {string} type */
const typeWords = (type) => /** @type {Record<string, string>} */ (TYPES)[type] ?? type;

/** @param {string} where @param {unknown} value @param {string} expected @returns {Problem} */
function problem(where, value, expected) {
  const text = JSON.stringify(value);
  const found = typeof value === 'object' && value ? typeWords(typeOf(value)) : text;
  const shown = found.length > 60 ? `${found.slice(0, 60)}…` : found;
  return { where: where || 'the file', found: shown, expected, fix: MENDED };
}

/** @param {unknown} value @param {Schema[]} forms @param {Record<string, Schema>} defs @param {string} where */
function checkAny(value, forms, defs, where) {
  const found = forms.map((form) => check(value, form, defs, where));
  if (found.some((each) => each.length === 0)) return [];
  return [problem(where, value, found.flatMap((each) => each[0]?.expected ?? []).join(', or '))];
}

/** @param {unknown} value @param {unknown[]} options @param {string} where */
function checkOne(value, options, where) {
  const words = options.map((each) => JSON.stringify(each)).join(', ');
  return options.includes(value) ? [] : [problem(where, value, words)];
}

/** @param {string} value @param {Schema} schema @param {string} where */
function checkText(value, { minLength = 0, maxLength = Infinity, pattern, $comment }, where) {
  const length = [...value].length;
  if (length < minLength) return [problem(where, value, 'a text that is not empty')];
  if (length > maxLength) return [problem(where, value, `at most ${maxLength} letters`)];
  if (!pattern || new RegExp(pattern, 'u').test(value)) return [];
  return [problem(where, seen(value), $comment ?? `the form ${pattern}`)];
}

/**
 * What nobody would see in the message either is told by its number.
 *
 * @param {string} text
 */
const seen = (text) =>
  text.replace(
    /[\p{C}\p{Zl}\p{Zp}\p{VS}\u115f\u1160\u2800\u3164\uffa0]|\u034f/gu,
    (letter) => `<U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}>`,
  );

/** @param {unknown[]} value @param {Schema} schema @param {Record<string, Schema>} defs @param {string} where */
function checkList(value, { items, minItems = 0, maxItems = Infinity }, defs, where) {
  const count = `${value.length} items`;
  const wrong = { where: where || 'the file', found: count, fix: MENDED };
  if (value.length < minItems) return [{ ...wrong, expected: `at least ${minItems}` }];
  if (value.length > maxItems) return [{ ...wrong, expected: `at most ${maxItems}` }];
  return value.flatMap((each, number) => check(each, items, defs, `${where}[${number}]`));
}

/** @param {object} value @param {Schema} schema @param {Record<string, Schema>} defs @param {string} where */
function checkGroup(value, { properties, required }, defs, where) {
  const known = Object.keys(properties);
  const place = (/** @type {string} */ key) => (where ? `${where}.${key}` : key);
  const missing = required.filter((/** @type {string} */ key) => !Object.hasOwn(value, key));
  return [
    ...missing.map((/** @type {string} */ key) => ({
      ...{ where: place(key), found: 'nothing', expected: 'a value', fix: MENDED },
    })),
    ...Object.entries(value).flatMap(([key, each]) => {
      if (known.includes(key)) return check(each, properties[key], defs, place(key));
      const expected = `one of: ${known.join(', ')}`;
      return [
        {
          where: place(key).slice(0, 120),
          found: 'a name that is not known',
          expected,
          fix: MENDED,
        },
      ];
    }),
  ];
}
