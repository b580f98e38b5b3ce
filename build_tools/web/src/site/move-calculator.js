/**
 * A calculator stands once on a procedure's page, at the first step that uses it. A later step
 * has a link to it. With a script the calculator comes to the step, with what was typed in it,
 * and the link goes to where it stood.
 */
export function startCalculatorMoves() {
  document.addEventListener('click', (event) => {
    const link =
      event.target instanceof Element && event.target.closest('[data-hb-move-calculator]');
    if (!(link instanceof HTMLAnchorElement)) return;
    const fold = document.getElementById(link.dataset.hbMoveCalculator ?? '');
    const place = link.parentElement;
    if (!(fold instanceof HTMLDetailsElement) || !place) return;
    event.preventDefault();
    fold.replaceWith(place.cloneNode(true));
    place.replaceWith(fold);
    renameOffers(fold);
    fold.open = true;
    fold.querySelector('summary')?.focus();
  });
}

/**
 * Every link says at which step the calculator is now.
 *
 * @param {HTMLElement} fold
 */
function renameOffers(fold) {
  const number = fold.closest('[data-hb-step]')?.getAttribute('data-hb-step');
  for (const link of document.querySelectorAll(`[data-hb-move-calculator="${fold.id}"]`)) {
    const note = link.parentElement?.querySelector('[data-hb-move-calculator-note]');
    if (note && number) note.textContent = `now at step ${number}`;
  }
}
