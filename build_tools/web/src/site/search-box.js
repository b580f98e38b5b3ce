import { theme } from './theme-script.js';

/** Keys by which the theme opens its search or turns a page. Nobody who dictates wants them. */
const LETTERS = new Set(['f', 's', '/', 'p', ',', 'n', '.']);
const PINNED = 'data-md-scrolllock';
const NOT_LOADED = 'The search did not load. Load the page again.';
const TYPED_IN = 'input:not([type=radio]), select, textarea';

/** What the theme's search box lacks: a button with a word on a phone, and a way back from there. */
export function startSearchBox() {
  const box = document.querySelector('[data-md-component="search"]');
  const field = box?.querySelector('input');
  const toggle = document.getElementById('__search');
  const button = document.querySelector('.hb-search__open');
  const status = box?.querySelector('[role="status"]');
  if (!status || !box || !field || !(toggle instanceof HTMLInputElement)) return;
  if (!(button instanceof HTMLElement)) return;

  /** @param {boolean} open */
  const show = (open) => {
    if (toggle.checked !== open) toggle.click();
  };
  const open = () => {
    show(true);
    field.focus();
  };
  const loading = status.textContent;
  let isFirst = true;
  field.addEventListener('focus', () => {
    show(true);
    theme().catch(() => {
      isFirst = false;
      status.textContent = NOT_LOADED;
    });
  });
  field.addEventListener('input', () => {
    // The theme looks at keys alone: who pastes, dictates or empties the field presses none.
    field.dispatchEvent(new Event('keyup'));
    // The list of words is loaded for the first question, and its answer stands here then.
    if (isFirst && field.value.trim()) {
      isFirst = false;
      status.textContent = loading;
    }
  });
  button.addEventListener('click', (event) => {
    event.preventDefault();
    open();
  });
  button.addEventListener('keydown', (event) => {
    if (event.key !== ' ') return;
    event.preventDefault();
    open();
  });
  toggle.addEventListener('change', () => {
    button.setAttribute('aria-expanded', String(toggle.checked));
    // On a phone the box is gone with what has the focus; elsewhere this does nothing.
    if (!toggle.checked && box.contains(document.activeElement)) button.focus();
  });
  box.querySelector('.hb-search__close')?.addEventListener('click', () => show(false));
  document.addEventListener('pointerdown', ({ target }) => {
    if (target instanceof Node && !box.contains(target) && !button.contains(target)) show(false);
  });
  // The theme pins the page while one searches, and then puts it back to where it was: whoever
  // follows what was found would land there.
  new MutationObserver(unpin).observe(document.body, { attributeFilter: [PINNED] });
  document.addEventListener('hb:page', () => {
    field.value = '';
    show(false);
  });
  // Here before the theme's own, which is on the window too.
  addEventListener('keydown', (event) => {
    const { key, target, ctrlKey, metaKey, altKey } = event;
    if (ctrlKey || metaKey || altKey || toggle.checked || !LETTERS.has(key)) return;
    if (target instanceof Element && !target.matches(TYPED_IN)) event.stopImmediatePropagation();
  });
}

function unpin() {
  if (!document.body.hasAttribute(PINNED)) return;
  document.body.removeAttribute(PINNED);
  document.body.style.top = '';
}
