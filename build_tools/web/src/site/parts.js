/** While the reader works, a part whose steps are all ticked folds to its heading. */

const PARTS = '[data-hb-steps]';
const TICKS = 'input[data-hb-tick]';

/** @param {Element} part steps without a heading have nothing that opens them again */
function isDone(part) {
  if (part.firstElementChild?.tagName === 'OL') return false;
  const ticks = [...part.querySelectorAll(TICKS)];
  return ticks.every((tick) => tick instanceof HTMLInputElement && tick.checked);
}

/** @param {Element | null} [busy] the part that the reader is at: it stays as it is */
function fold(busy = null) {
  for (const part of document.querySelectorAll(PARTS)) {
    const done = isDone(part);
    if (part === busy && done) continue;
    part.toggleAttribute('data-hb-done', done);
  }
}

export const showParts = () => fold();

export function startParts() {
  document.addEventListener('change', ({ target }) => {
    if (!(target instanceof HTMLInputElement) || !target.matches(TICKS)) return;
    // What is under the thumb stays there, whatever folds above it.
    const before = target.getBoundingClientRect().top;
    fold(target.closest(PARTS));
    const moved = target.getBoundingClientRect().top - before;
    if (moved) scrollBy({ top: moved, behavior: 'instant' });
  });
  document.addEventListener('click', ({ target }) => {
    if (target instanceof Element && target.closest('[data-hb-ticks-clear]')) fold();
  });
}
