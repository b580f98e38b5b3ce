/**
 * Hands a text to the reader as a file of their own.
 *
 * @param {string} name
 * @param {string} text
 * @param {string} type
 */
export function downloadText(name, text, type) {
  download(name, new Blob([text], { type: `${type};charset=utf-8` }));
}

/**
 * The same for whatever a file holds.
 *
 * @param {string} name
 * @param {Blob} held
 */
export function download(name, held) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(held);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // A browser may still be reading it when the click returns.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
