const OPEN = 'hb-nav--open';

/**
 * The list of pages on a narrow screen. Without a script the link leads to the list, which then
 * shows by :target; with one it opens and shuts in place.
 */
export function startMenu() {
  const button = document.querySelector('[data-hb-menu]');
  if (!(button instanceof HTMLAnchorElement)) return;
  button.setAttribute('role', 'button');
  button.setAttribute('aria-expanded', 'false');

  /** @param {boolean} open */
  const show = (open) => {
    document.getElementById('hb-nav')?.classList.toggle(OPEN, open);
    button.setAttribute('aria-expanded', String(open));
  };
  const isOpen = () => button.getAttribute('aria-expanded') === 'true';

  button.addEventListener('click', (event) => {
    event.preventDefault();
    show(!isOpen());
  });
  button.addEventListener('keydown', (event) => {
    if (event.key !== ' ') return;
    event.preventDefault();
    show(!isOpen());
  });
  document.addEventListener('keydown', (event) => {
    if (event.key !== 'Escape' || !isOpen()) return;
    show(false);
    button.focus();
  });
  document.addEventListener('click', (event) => {
    const close = event.target instanceof Element && event.target.closest('[data-hb-menu-close]');
    if (!close) return;
    event.preventDefault();
    show(false);
    button.focus();
  });
  document.addEventListener('hb:page', () => show(false));
}
