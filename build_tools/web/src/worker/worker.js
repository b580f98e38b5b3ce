/** The worker that the calculators run in. See protocol/messages.js for what it hears and says. */

import { broadcastReply } from '../protocol/broadcast-reply.js';
import { EARLY, FILES_DAMAGED } from '../protocol/messages.js';
import { FolderFiles, handedOver } from './folder-files.js';
import { Python } from './python-start.js';
import { FileError, RuntimeFiles } from './runtime-files.js';
import { SNAPSHOT } from './snapshot-start.js';

/** @typedef {import('../protocol/messages.js').FromWorker} FromWorker */
/** @typedef {import('../protocol/messages.js').Question} Question */

const here = new URL(location.href);
const fromFolder = here.protocol === 'blob:';
const files = fromFolder
  ? new FolderFiles(HB_RUNTIME, handedOver())
  : new RuntimeFiles(HB_RUNTIME, new URL('../runtime/', here).href);
const say = (/** @type {FromWorker} */ message) => postMessage(message);

/** A folder carries what the snapshot needs and no more. */
const way = fromFolder ? 'snapshot' : here.searchParams.get('start');

/**
 * A worker that its page has made early begins when it first hears of it: client/early-worker.js.
 *
 * @type {Promise<void>}
 */
const begin = new Promise((resolve) => {
  if (self.name !== EARLY) resolve();
  else addEventListener('message', () => resolve(), { once: true });
});

let isReady = false;
const tellStage = (/** @type {import('../protocol/messages.js').Stage} */ stage) => {
  isReady ||= stage.stage === 'ready';
  say(stage);
};
const python = new Python(files, way, tellStage, { begin });
python.started.then(mendSnapshot, stopOverFiles);

addEventListener('message', async (/** @type {MessageEvent<Question>} */ { data }) => {
  const { id, action, request, inParts, replyChannel } = data;
  if (id === undefined) return; // a word to begin, or the runtime of a folder edition
  try {
    const asked = { ...request, action, edition: HB_RUNTIME.edition };
    let waitsFor = inParts;
    const tell = (/** @type {FromWorker} */ message) => {
      if (waitsFor) broadcastReply(replyChannel, message);
      waitsFor = false; // what follows what the reader waits for can wait for its frame
      say(message);
    };
    const tellFirst = (/** @type {object} */ first) => tell({ id, first });
    tell({ id, result: await python.answer(asked, inParts ? tellFirst : null) });
  } catch (error) {
    // Python may be in any state after this: the page starts another worker.
    if (await stopOverFiles()) return;
    say({ stopped: failure('RuntimeStopped', wordsFor(error), error) });
    close();
  }
});

/** @type {Promise<boolean> | null} each question hears of a failed start: one look does */
let looking = null;

/**
 * A start that fails over a damaged file ends this worker with that reason. A file that could be
 * fetched anew serves the next one.
 *
 * @returns {Promise<boolean>} whether one was found
 */
function stopOverFiles() {
  looking ??= lookOverFiles().finally(() => {
    looking = null;
  });
  return looking;
}

async function lookOverFiles() {
  for (const name of python.needs) {
    const found = await files.check(name);
    if (found === 'refetched' || found === 'damaged') {
      const kind = found === 'damaged' ? FILES_DAMAGED : 'FilesRefetched';
      const mend = fromFolder ? ' Unpack the zip file again, whole.' : '';
      say({ stopped: failure(kind, `A file of this handbook is damaged: ${name}.${mend}`) });
      close();
      return true;
    }
  }
  return false;
}

/** A damaged snapshot gave way to the slow start. Fetched anew, it serves the next one. */
function mendSnapshot() {
  if (python.gaveWay) void files.check(SNAPSHOT).catch(() => {});
}

/** @param {unknown} error @returns {string} A folder has one way to start, so no other was tried. */
function wordsFor(error) {
  if (!fromFolder || isReady || error instanceof FileError) {
    return 'The calculators could not start or go on.';
  }
  const newer = 'Open the folder in a newer Chrome, Edge, Firefox or Safari.';
  return `This browser can't start the calculators from a folder. ${newer}`;
}

/** @param {string} kind @param {string} words @param {unknown} [error] */
function failure(kind, words, error) {
  const cause = error instanceof Error ? ` (${error.message})` : '';
  return { kind, field: null, message: `${words}${cause}` };
}
