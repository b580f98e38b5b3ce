/** Counts out the last day of a period, by the calendar: no clock and no time zone moves it. */

const DAY = /^(\d{4})-(\d{2})-(\d{2})$/;
const DAY_MS = 24 * 3600 * 1000;

/**
 * @param {string} from `2026-03-01`, which is not counted itself
 * @param {string} days
 * @returns {string} `2026-03-15`; empty where there is no such day, or no period to count
 */
export function lastDay(from, days) {
  const [, year, month, day] = DAY.exec(from) ?? [];
  const start = Date.UTC(Number(year), Number(month) - 1, Number(day));
  const isThere = !Number.isNaN(start) && new Date(start).toISOString().slice(0, 10) === from;
  if (!isThere || !/^\d+$/.test(days)) return '';
  return new Date(start + Number(days) * DAY_MS).toISOString().slice(0, 10);
}
