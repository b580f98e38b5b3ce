import { readLocal, writeLocal } from '../lib/local-storage.js';
import { keepPlace } from './resume.js';

const KEY = 'hb:ticks';
const NOT_KEPT =
  'The last tick is not kept: this browser has no room, or blocks storage. It goes when you leave this page.';

let areKept = true;

/** @returns {Set<string>} every step that is ticked, as `procedure.step` */
function ticked() {
  return new Set((readLocal(KEY) ?? '').split(' ').filter(Boolean));
}

/** @returns {HTMLInputElement[]} the boxes of this page */
function boxes() {
  return [...document.querySelectorAll('input[data-hb-tick]')].map(
    (box) => /** @type {HTMLInputElement} */ (box),
  );
}

/** @param {HTMLInputElement} box @returns {string} as `procedure.step` */
function nameOf(box) {
  const page = box.closest('[data-hb-procedure]');
  return `${page?.getAttribute('data-hb-procedure')}.${box.dataset.hbTick}`;
}

/** Puts the ticks back that the reader made, and offers to clear them. */
export function showTicks() {
  const done = ticked();
  for (const box of boxes()) box.checked = done.has(nameOf(box));
  showClear();
}

function showClear() {
  const bar = document.querySelector('[data-hb-ticks]');
  if (!(bar instanceof HTMLElement)) return;
  const all = boxes();
  const count = all.filter((box) => box.checked).length;
  bar.hidden = count === 0;
  const said = bar.querySelector('[data-hb-ticks-count]');
  const lost = areKept ? '' : ` ${NOT_KEPT}`;
  if (said) said.textContent = `${count} of ${all.length} steps done.${lost}`;
}

/** @param {HTMLInputElement} box */
function remember(box) {
  const done = ticked();
  const name = nameOf(box);
  if (box.checked) done.add(name);
  else done.delete(name);
  areKept = writeLocal(KEY, [...done].join(' ') || null);
}

function clear() {
  for (const box of boxes()) {
    box.checked = false;
    remember(box);
  }
  keepPlace(boxes());
  showClear();
}

export function startTicks() {
  document.addEventListener('change', (event) => {
    if (!(event.target instanceof HTMLInputElement) || !event.target.dataset.hbTick) return;
    remember(event.target);
    keepPlace(boxes());
    showClear();
  });
  document.addEventListener('click', (event) => {
    if (event.target instanceof Element && event.target.closest('[data-hb-ticks-clear]')) clear();
  });
}
