import { CalculatorClient } from './calculator-client.js';
import { clientOptions } from './folder-edition.js';

/** @typedef {import('../protocol/bridge-types.js').Reply} Reply */
/** @typedef {import('../protocol/bridge-types.js').Request} Request */
/** @typedef {import('../protocol/bridge-types.js').OutcomesRequest} OutcomesRequest */
/** @typedef {import('../protocol/bridge-types.js').OutcomesReply} OutcomesReply */

/** Where this script lies: the runtime lies beside it, also on a page two folders down. */
const scriptUrl = /** @type {HTMLScriptElement | null} */ (document.currentScript)?.src ?? '';

const NAME = 'hbCalculatorClient';

/**
 * The one client of this window. It outlives the page: the hosted site swaps pages without a
 * reload, and a worker that has started goes on for the next page.
 *
 * @returns {CalculatorClient}
 */
function sharedClient() {
  const holder = /** @type {Record<string, CalculatorClient>} */ (/** @type {unknown} */ (window));
  holder[NAME] ??= new CalculatorClient(workerUrl(), clientOptions());
  return holder[NAME];
}

/**
 * @param {Request} request
 * @param {(first: Reply) => void} tellFirst hears the first part of an answer
 * @param {() => void} tellAgain hears when another worker is asked
 * @returns {Promise<Reply>}
 */
export const run = (request, tellFirst, tellAgain) =>
  sharedClient().run(request, tellFirst, tellAgain);

/**
 * What steps say of the readings of a visit.
 *
 * @param {OutcomesRequest} request
 * @param {(reply: OutcomesReply) => void} tellFirst hears it as soon as it is there
 * @returns {Promise<OutcomesReply>}
 */
export const outcomes = (request, tellFirst) => sharedClient().run(request, tellFirst);

/**
 * Whether the readings of one appliance of a visit fit each other.
 *
 * @param {import('../protocol/bridge-types.js').FitRequest} request
 * @returns {Promise<import('../protocol/bridge-types.js').FitReply>}
 */
export const fitOf = (request) => sharedClient().run(request);

/**
 * What holds of the figures that a reader keeps.
 *
 * @param {import('../protocol/bridge-types.js').OwnRequest} request
 * @returns {Promise<import('../protocol/bridge-types.js').OwnReply>}
 */
export const ownTold = (request) => sharedClient().run(request);

/**
 * A question of practice, or what is said to an answer. The engine comes with its page: a worker
 * that has not heard of it is taught, also one that takes another's place.
 *
 * @param {object} request
 * @param {string} program the engine and its questions
 * @returns {Promise<any>}
 */
export async function practise(request, program) {
  const asked = { ...request, action: 'practice' };
  const reply = await sharedClient().run(asked);
  if (!reply.untaught) return reply;
  await sharedClient().run({ action: 'teach', program });
  return sharedClient().run(asked);
}

/** Ends what the calculators are at. The next question starts them anew. */
export const stop = () => sharedClient().stop();

/** @type {Set<() => void>} */
const waiting = new Set();
let isReady = false;
let follows = false;

/** @param {() => void} act called once, when the calculators are ready to answer */
export function onReady(act) {
  waiting.add(act);
  if (isReady) tellReady();
  if (follows) return;
  follows = true;
  sharedClient().onStage(({ stage }) => {
    isReady = stage === 'ready';
    if (isReady) tellReady();
  });
}

function tellReady() {
  const told = [...waiting];
  waiting.clear();
  for (const act of told) act();
}

/** `?start=ordinary` on a page picks the way the runtime starts, for tests and the benchmark. */
function workerUrl() {
  const url = new URL('worker.js', scriptUrl || location.href);
  const start = new URLSearchParams(location.search).get('start');
  if (start) url.searchParams.set('start', start);
  return url.href;
}
