// Intl knows these too. It loads the words of a language first: that was 20 of the 30 ms that the
// home page's scripts took in a fresh Chromium.
const MONTHS = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
];

/**
 * "2026-10-01" as "1 October 2026": no reader should have to wonder which figure is the month.
 *
 * @param {string} iso
 * @returns {string} any other text as it stands
 */
export function writtenDay(iso) {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name ? `${Number(day)} ${name} ${year}` : iso;
}

/** @param {Date} now @returns {string} "26 November", by this device's clock */
export const dayAndMonth = (now) => `${now.getDate()} ${MONTHS[now.getMonth()]}`;

/** @param {Date} now @returns {string} "26 November 2026 at 14:02", by this device's clock */
export const momentInWords = (now) =>
  `${dayAndMonth(now)} ${now.getFullYear()} at ${two(now.getHours())}:${two(now.getMinutes())}`;

/** @param {number} number */
const two = (number) => String(number).padStart(2, '0');

/** @param {string} one @param {string} other ISO times @returns {number} for `sort`: early ones first */
export const byTime = (one, other) => Number(one > other) - Number(one < other);

/** Today by the clock and the time zone of this device, as "2026-11-25". */
export function today() {
  const now = new Date();
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
