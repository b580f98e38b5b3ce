/** Marks the moment at which the first live answer of the page was painted, for the benchmark. */
export function markFirstAnswer() {
  if (performance.getEntriesByName('hb:first-answer').length) return;
  requestAnimationFrame(() => {
    // A task after the frame callback runs when the frame has been drawn.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => performance.mark('hb:first-answer');
    port2.postMessage(null);
  });
}
