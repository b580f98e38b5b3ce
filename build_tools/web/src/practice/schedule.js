/** When a template comes back, and which comes next. */

import { createEmptyCard, fsrs, Rating } from 'ts-fsrs';
import { STAGES } from './progress.js';

/** @typedef {import('./progress.js').Progress} Progress */
/** @typedef {import('ts-fsrs').CardInput} Kept when a template is due, and what that follows from */
/** @typedef {{id: string, title: string, topic: string, asks: string, safety: string}} Listed */

/** It was made for facts. What is wrong comes back in this session, what is right another day. */
const scheduler = fsrs({ enable_fuzz: false, learning_steps: ['1m'], relearning_steps: ['1m'] });

/**
 * When it comes back, from what was done and never from how sure somebody says they are.
 *
 * @param {Kept | undefined} kept
 * @param {{isRight: boolean, isAlone: boolean}} done
 * @param {Date} now
 * @returns {Kept}
 */
export function again(kept, { isRight, isAlone }, now) {
  const right = isAlone ? Rating.Good : Rating.Hard;
  return scheduler.next(kept ?? createEmptyCard(now), now, isRight ? right : Rating.Again).card;
}

/** A new one is one of so many that are the easiest, so that two who begin get others. */
const EASIEST = 4;
const NEW = 3;

/**
 * The template that comes next: what was unsafe and sure, what is due, what is not yet done alone,
 * and then a new one, an easy one first, of another topic than the last. Never the same twice
 * running.
 *
 * @param {Listed[]} listed the easy ones first
 * @param {Progress} progress
 * @param {{last: Listed | null, now: Date, chance?: () => number}} about
 * @returns {Listed | undefined}
 */
export function pick(listed, progress, { last, now, chance = Math.random }) {
  const others = listed.filter((each) => each.id !== last?.id);
  const rank = (/** @type {Listed} */ each) => {
    const kept = progress.templates[each.id];
    if (kept?.first) return 0;
    if (isDue(progress, each.id, now)) return 1;
    if (kept && kept.stage < STAGES.length - 1 && !kept.card) return 2;
    return kept ? NEW + 1 : NEW;
  };
  const best = Math.min(...others.map(rank));
  const fitting = others.filter((each) => rank(each) === best);
  const mixed = fitting.filter((each) => each.topic !== last?.topic);
  const all = mixed.length > 0 ? mixed : fitting;
  const among = best === NEW ? all.slice(0, EASIEST) : all;
  return among[Math.floor(chance() * among.length)];
}

/** @param {Progress} progress @param {string} id @param {Date} now @returns {boolean} */
export function isDue(progress, id, now) {
  const due = progress.templates[id]?.card?.due;
  return due !== undefined && new Date(due) <= now;
}

/**
 * How many questions of a topic are due, from what is kept alone: a page that has just been opened
 * knows no templates yet.
 *
 * @param {Progress} progress
 * @param {string} topic
 * @param {Date} now
 * @returns {number}
 */
export function countDue(progress, topic, now) {
  const ofTopic = progress.answers.filter((each) => each.topic === topic);
  const ids = new Set(ofTopic.map(({ question }) => question));
  return [...ids].filter((id) => isDue(progress, id, now)).length;
}
