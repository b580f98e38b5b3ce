/**
 * Letters that nobody sees. A name made of them looks empty; a direction mark shows a text in another
 * order than it has. visit_record.schema.json refuses the same in a file.
 */

/** Marks that turn the direction of a text (Unicode, UAX 9), and control codes. */
const TURNING = '\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069';
const CONTROL = '\\u0000-\\u001f\\u007f-\\u009f';
/** What has no width and no line of its own. */
const HIDDEN =
  '\\u00ad\\u034f\\u115f\\u1160\\u17b4\\u17b5\\u180b-\\u180f\\u200b-\\u200d\\u2028\\u2029\\u2060-\\u2065\\u206a-\\u206f\\u2800\\u3164\\ufe00-\\ufe0f\\ufeff\\uffa0\\ufff9-\\ufffb';

const IN_LINE = new RegExp(`[${CONTROL}${TURNING}${HIDDEN}]|[\\u{e0000}-\\u{e0fff}]`, 'gu');
const IN_TEXT = new RegExp(`(?![\\t\\n\\r])[${CONTROL}]|[${TURNING}]`, 'gu');

/**
 * A name, a label or a reading: one line of what can be seen.
 *
 * @param {string} text
 * @returns {string} empty where nothing can be seen
 */
export const plainLine = (text) =>
  text
    .replace(/[\t\n\r\u2028\u2029]+/gu, ' ')
    .replace(IN_LINE, '')
    .trim();

/** @param {string} text a note, which may have lines @returns {string} */
export const plainText = (text) => text.replace(IN_TEXT, '');
