/**
 * While the keyboard of a phone is open, the field of a step stands under the top edge with its
 * label, and its outcome below it: the visual viewport is what the reader sees.
 */

const FIELD = '[data-hb-step] [data-hb-reading]';
const OPEN_BELOW = 0.75; // of the window: a keyboard takes more than a quarter, a browser's bar less
const EDGE_PX = 4;

/** @type {Element | null} the line that is typed in */
let line = null;

/** The window at its tallest since it had this width. */
const whole = { width: 0, height: 0 };

/**
 * Most browsers lay the keyboard over the page. Some make the whole window shorter instead: on a device
 * that is touched, a window that has lost so much of its height has lost it to a keyboard.
 */
function isOpen() {
  const seen = window.visualViewport;
  if (innerWidth !== whole.width) Object.assign(whole, { width: innerWidth, height: 0 });
  whole.height = Math.max(whole.height, innerHeight);
  const isTouched = matchMedia('(pointer: coarse)').matches;
  const height = isTouched ? whole.height : innerHeight;
  return seen !== null && seen.height * seen.scale < OPEN_BELOW * height;
}

function settle() {
  const typing = line !== null && isOpen();
  document.documentElement.toggleAttribute('data-hb-keyboard', typing);
  if (!typing || !line) return;
  const label = line.querySelector('label') ?? line;
  const top = label.getBoundingClientRect().top - (window.visualViewport?.offsetTop ?? 0);
  scrollBy({ top: top - EDGE_PX, behavior: 'instant' });
}

export function startKeyboard() {
  document.addEventListener('focusin', ({ target }) => {
    const isField = target instanceof HTMLInputElement || target instanceof HTMLSelectElement;
    line = isField ? target.closest(FIELD) : null;
    settle();
  });
  document.addEventListener('focusout', () => {
    line = null;
    settle();
  });
  window.visualViewport?.addEventListener('resize', settle);
}
