/**
 * A second way for what a worker says. Chromium holds back what a worker posts to a page after a
 * key is pressed, until the frame of that key is drawn; what comes by a channel it does not. So an
 * answer that is there in time is drawn together with its key, and not a frame after it. The
 * worker says the same both ways, since a channel may be missing or lead nowhere; the page takes
 * what comes first.
 */

/** @typedef {{name: string, close: () => void}} ReplyChannel */

const PREFIX = 'hb-answers-';

/**
 * The page's end.
 *
 * @param {(message: any) => void} heard
 * @returns {ReplyChannel | null} null in a browser that has no channels, or lets nobody use them
 */
export function openReplyChannel(heard) {
  try {
    const channel = new BroadcastChannel(PREFIX + privateName());
    channel.addEventListener('message', ({ data }) => heard(data));
    return { name: channel.name, close: () => channel.close() };
  } catch {
    return null;
  }
}

/** Each page of the site hears every channel that it can name. */
function privateName() {
  return [...crypto.getRandomValues(new Uint32Array(4))].join('-');
}

/** @type {BroadcastChannel | null} */
let channel = null;

/**
 * The worker's end: one page has it, which names its channel with each question.
 *
 * @param {string | undefined} name
 * @param {object} message
 */
export function broadcastReply(name, message) {
  if (!name) return;
  try {
    if (channel?.name !== name) {
      channel?.close();
      channel = new BroadcastChannel(name);
    }
    channel.postMessage(message);
  } catch {
    // The same is said the usual way too.
  }
}
