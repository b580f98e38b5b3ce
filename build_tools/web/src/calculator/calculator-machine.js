/**
 * The states of a calculator and what leads from one to the next. A state is what `data-state` of
 * the element says; nothing else may set it. An event that a state does not list changes nothing.
 *
 * @typedef {import('../protocol/bridge-types.js').State} State
 *
 * @typedef {'open' | 'started' | 'startedAsked' | 'ask' | 'empty' | 'clear' | 'restart' |
 *   'figures' | 'answer' | 'refuse' | 'fail'} Event
 *   open: the form comes alive. started, startedAsked: the calculators can answer, and something
 *   was asked meanwhile or not. ask: the form holds a question. empty: the reader took the last
 *   reading out. clear: the reader cleared the form. restart: a worker was lost over the question.
 *   figures: the first part of an answer. answer, refuse, fail: what became of the question.
 *
 * @typedef {'open' | 'question' | 'example' | 'wait' | 'figures' | 'answer' | 'refusals' |
 *   'reason'} Effect what is to be done on the way: see calculator-effects.js
 *
 * @typedef {{state: State, effect?: Effect}} Step
 */

/** @type {Partial<Record<Event, Step>>} */
const REPLIES = {
  answer: { state: 'answered', effect: 'answer' },
  refuse: { state: 'refused', effect: 'refusals' },
  fail: { state: 'stopped', effect: 'reason' },
};

/** @type {Partial<Record<Event, Step>>} */
const FORM = {
  ask: { state: 'working', effect: 'question' },
  empty: { state: 'ready', effect: 'example' },
  clear: { state: 'ready', effect: 'example' },
};

/**
 * Only where an answer stands, which the reader sees while the next one is worked out.
 *
 * @type {Partial<Record<Event, Step>>}
 */
const FIGURES = { figures: { state: 'answered', effect: 'figures' } };

/** @type {Record<State, Partial<Record<Event, Step>>>} */
const TABLE = {
  example: { open: { state: 'starting', effect: 'open' } },
  starting: {
    started: { state: 'ready' },
    startedAsked: { state: 'working' },
    // The question waits for the calculators, and so does the word for it.
    ask: { state: 'starting', effect: 'question' },
    empty: { state: 'starting', effect: 'example' },
    clear: { state: 'starting', effect: 'example' },
    ...REPLIES,
  },
  // Nothing was asked, so no reply is due; a change that leaves the form empty is none.
  ready: {
    ask: { state: 'working', effect: 'question' },
    clear: { state: 'ready', effect: 'example' },
  },
  working: { ...FORM, ...REPLIES, ...FIGURES, restart: { state: 'working', effect: 'wait' } },
  answered: { ...FORM, ...REPLIES, ...FIGURES },
  refused: { ...FORM, ...REPLIES },
  stopped: { ...FORM, ...REPLIES },
};

/**
 * @param {State} state
 * @param {Event} event
 * @returns {Step | undefined} nothing where the event changes nothing
 */
export const next = (state, event) => TABLE[state][event];
