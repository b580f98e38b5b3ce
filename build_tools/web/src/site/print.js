/** What an answer has folded away stands on paper. Where CSS can unfold it (theme/assets/css/working.css)
 *  this is not needed: the long-term Firefox of 2025 and WebKit can't. */

const FOLDS = '[data-hb-fold]:not([open]), [data-hb-working]:not([open])';

export function startPrinting() {
  /** @type {HTMLDetailsElement[]} */ let opened = [];
  addEventListener('beforeprint', () => {
    opened = [...document.querySelectorAll(FOLDS)].map(
      (fold) => /** @type {HTMLDetailsElement} */ (fold),
    );
    for (const fold of opened) fold.open = true;
  });
  addEventListener('afterprint', () => {
    for (const fold of opened) fold.open = false;
    opened = [];
  });
}
