const IN_WORDS = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
});

/**
 * "2026-10-01" as "1 October 2026": no reader should have to wonder which figure is the month.
 *
 * @param {string} iso
 * @returns {string} any other text as it stands
 */
export function writtenDay(iso) {
  return /^\d{4}-\d{2}-\d{2}$/.test(iso) ? IN_WORDS.format(new Date(iso)) : iso;
}

/** Today by the clock and the time zone of this device, as "2026-11-25". */
export function today() {
  const now = new Date();
  const two = (/** @type {number} */ number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
