const BEHIND = '.md-skip, .md-header, .hb-age, #hb-main, #hb-toc, .md-footer, [data-hb-timers]';

/**
 * The menu on a narrow screen: the theme's drawer, which opens by a checkbox and knows no keyboard.
 * Without a script the link leads to the menu, which then shows by :target.
 */
export function startDrawer() {
  const button = document.querySelector('[data-hb-menu]');
  const toggle = document.getElementById('__drawer');
  if (!(button instanceof HTMLAnchorElement) || !(toggle instanceof HTMLInputElement)) return;
  button.setAttribute('role', 'button');
  button.setAttribute('aria-expanded', 'false');

  /** @param {boolean} open */
  const show = (open) => {
    if (toggle.checked !== open) toggle.click();
  };
  toggle.addEventListener('change', () => {
    button.setAttribute('aria-expanded', String(toggle.checked));
    for (const part of document.querySelectorAll(BEHIND))
      part.toggleAttribute('inert', toggle.checked);
    moveFocus(toggle.checked, button);
  });
  button.addEventListener('click', (event) => {
    event.preventDefault();
    show(!toggle.checked);
  });
  button.addEventListener('keydown', (event) => {
    if (event.key !== ' ') return;
    event.preventDefault();
    show(!toggle.checked);
  });
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') show(false);
  });
  document.addEventListener('click', (event) => {
    const close = event.target instanceof Element && event.target.closest('[data-hb-menu-close]');
    if (!close) return;
    event.preventDefault();
    show(false);
  });
  document.addEventListener('hb:page', () => show(false));
  // With room for the menu beside the page there is no drawer, and nothing behind it.
  matchMedia('(min-width: 64rem)').addEventListener('change', () => show(false));
}

/**
 * To the page that is shown, among the others; and back again.
 *
 * @param {boolean} open
 * @param {HTMLElement} button
 */
function moveFocus(open, button) {
  const menu = document.getElementById('hb-nav');
  const first = menu?.querySelector('[aria-current]') ?? menu?.querySelector('a');
  if (open && first instanceof HTMLElement) first.focus();
  else if (menu?.contains(document.activeElement)) button.focus();
}
