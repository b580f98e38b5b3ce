/**
 * Stands where the worker will be while `serve` makes the calculators anew after an edit. It
 * answers no question: an answer from before the edit would be wrong beside the new page.
 */
addEventListener('message', ({ data }) => {
  if (data.id === undefined) return; // no question
  const message = 'The calculators are being made anew after an edit: wait some seconds.';
  postMessage({ stopped: { kind: 'BeingMade', field: null, message } });
});
