/** Other windows of this device that show the same visits. */

/** @type {BroadcastChannel | null} not given to every page from a folder */
let channel = null;
try {
  channel = new BroadcastChannel('hb-visits');
} catch {
  // Then another window's change is seen when the page is opened again.
}

export const tabSync = {
  /** Says that something was changed here. */
  tell: () => channel?.postMessage('changed'),
  /** @param {() => void} act when something was changed there */
  onChange: (act) => channel?.addEventListener('message', act),
};
