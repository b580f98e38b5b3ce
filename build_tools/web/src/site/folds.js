/**
 * What explains stands folded while the reader works: of a step why, what if not, drawing and
 * calculator; the lists of the page's head; a part that is done. The head of each is touched to
 * open it. Without a script, on paper and for learning nothing of it is folded: steps-folded.css.
 */

const BOXES = '[data-hb-step], [data-hb-steps], [data-hb-folds]';
const UNTITLED = '[data-hb-steps] > ol:first-child'; // steps that stand in no part: nothing to touch
const TOUCH = '[data-hb-fold-touch]';

/** @param {Element} box @returns {Element | null} what is touched to open it */
function headOf(box) {
  const head = box.querySelector(':scope > [data-hb-fold-head]') ?? box.firstElementChild;
  return head?.matches(UNTITLED) ? null : head;
}

/** @param {Element} box @param {Element} head @returns {string} what opens, for the ear */
function nameOf(box, head) {
  const step = box.getAttribute('data-hb-step');
  const stops = box.hasAttribute('data-hb-stops') ? ' One of them stops the work.' : '';
  if (step) return `Why, and what if not: step ${step}.${stops}`;
  return box.getAttribute('data-hb-folds') || (head.textContent ?? '').trim();
}

/** A button over the whole head, made once. */
export function showFolds() {
  for (const box of document.querySelectorAll(BOXES)) {
    const head = headOf(box);
    if (!head || head.querySelector(TOUCH)) continue;
    const button = document.createElement('button');
    Object.assign(button, { type: 'button', className: 'hb-fold-touch' });
    button.dataset.hbFoldTouch = '';
    button.setAttribute('aria-label', nameOf(box, head));
    button.setAttribute('aria-expanded', String(box.hasAttribute('data-hb-open')));
    head.append(button);
  }
}

/** @param {Element} box @param {boolean} isOpen */
function set(box, isOpen) {
  box.toggleAttribute('data-hb-open', isOpen);
  headOf(box)?.querySelector(TOUCH)?.setAttribute('aria-expanded', String(isOpen));
}

/** @param {Element | null} place opens all that it stands in; a step that is gone to stays folded */
export function openAround(place) {
  for (let box = place?.closest(BOXES); box; box = box.parentElement?.closest(BOXES)) {
    if (box !== place || !box.hasAttribute('data-hb-step')) set(box, true);
  }
}

/** @param {string} hash @returns {HTMLElement | null} */
const named = (hash) => (hash.length > 1 ? document.getElementById(hash.slice(1)) : null);

export function startFolds() {
  document.addEventListener('click', ({ target }) => {
    if (!(target instanceof Element)) return;
    const box = target.closest(TOUCH)?.closest(BOXES);
    if (box) set(box, !box.hasAttribute('data-hb-open'));
    // What a link goes to is open before the browser goes there.
    const link = target.closest('a[href^="#"]');
    if (link instanceof HTMLAnchorElement) openAround(named(link.hash));
  });
  addEventListener('hashchange', () => openAround(named(location.hash)));
  openAround(named(location.hash));
}
