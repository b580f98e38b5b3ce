/**
 * Waits until what has just been changed is on the screen.
 *
 * @returns {Promise<void>}
 */
export function afterPaint() {
  return new Promise((resolve) => {
    // A page that nobody looks at draws no frames.
    if (document.hidden) setTimeout(resolve);
    else requestAnimationFrame(() => afterFrame(resolve));
  });
}

/** @param {() => void} act a task after the frame callback runs when the frame has been drawn */
function afterFrame(act) {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = act;
  port2.postMessage(null);
}
