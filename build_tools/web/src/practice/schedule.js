/** When a template comes back, and which comes next. */

import { STAGES, templateOf } from './progress.js';

/** @typedef {import('./progress.js').Progress} Progress */
/** @typedef {{due: string, days: number}} Kept when a template is due, as it is kept */
/** @typedef {{id: string, title: string, topic: string, asks: string, safety: string}} Listed */

const DAY_MS = 86_400_000;
const SOON_MS = 60_000;
const LONGEST_DAYS = 180;

/**
 * When it comes back, from what was done and never from how sure somebody says they are.
 *
 * @param {Kept | undefined} kept
 * @param {{isRight: boolean, isAlone: boolean}} done
 * @param {Date} now
 * @returns {Kept}
 */
export function again(kept, { isRight, isAlone }, now) {
  if (!isRight) return { due: new Date(now.getTime() + SOON_MS).toISOString(), days: 0 };
  const days = Math.min(isAlone ? Math.max(1, (kept?.days ?? 0) * 2) : 1, LONGEST_DAYS);
  return { due: new Date(now.getTime() + days * DAY_MS).toISOString(), days };
}

/**
 * The template that comes next: what was unsafe and sure, what is due, what is not yet done alone,
 * and then a new one, of another topic than the last. Never the same twice running.
 *
 * @param {Listed[]} listed
 * @param {Progress} progress
 * @param {{last: Listed | null, now: Date, chance?: () => number}} about
 * @returns {Listed | undefined}
 */
export function pick(listed, progress, { last, now, chance = Math.random }) {
  const others = listed.filter((each) => each.id !== last?.id);
  const known = (/** @type {Listed} */ each) => progress.templates[each.id];
  const rank = (/** @type {Listed} */ each) => {
    const kept = known(each);
    if (kept?.first) return 0;
    if (kept?.card && kept.card.due <= now.toISOString()) return 1;
    if (kept && kept.stage < STAGES.length - 1 && !kept.card) return 2;
    return kept ? 4 : 3;
  };
  const best = Math.min(...others.map(rank));
  const fitting = others.filter((each) => rank(each) === best);
  const mixed = fitting.filter((each) => each.topic !== last?.topic);
  const among = mixed.length > 0 ? mixed : fitting;
  return among[Math.floor(chance() * among.length)];
}

/** @param {Progress} progress @param {string} id @param {Date} now @returns {boolean} */
export function isDue(progress, id, now) {
  const { card } = templateOf({ ...progress, templates: { ...progress.templates } }, id);
  return Boolean(card && card.due <= now.toISOString());
}
