/**
 * What the reader's finger is on stays where it is, whatever comes or goes above it. Chromium and
 * Firefox hold what stands at the top of the window, which may be above the change; Safari holds
 * nothing.
 */

const WITHIN = '#hb-main';

/** @type {Element | null} what was touched last */
let touched = null;

/** @param {Element | null} place */
function isInSight(place) {
  if (!place?.isConnected || !place.closest(WITHIN)) return false;
  const { top, bottom } = place.getBoundingClientRect();
  return bottom > 0 && top < innerHeight && bottom > top;
}

/** @returns {Element | undefined} a field that is typed in goes before what was touched */
const held = () => [document.activeElement, touched].find(isInSight) ?? undefined;

/**
 * Has the page changed, and what the reader is at stay in its place.
 *
 * @param {() => void} change
 */
export function keptStill(change) {
  const place = held();
  const before = place?.getBoundingClientRect().top ?? 0;
  change();
  if (!place?.isConnected) return;
  const moved = place.getBoundingClientRect().top - before;
  if (Math.abs(moved) >= 1) scrollBy({ top: moved, behavior: 'instant' });
}

export function startKeptStill() {
  document.addEventListener(
    'pointerdown',
    ({ target }) => {
      touched = target instanceof Element ? target : null;
    },
    { passive: true, capture: true },
  );
}
