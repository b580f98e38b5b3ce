import { storedKey } from '../lib/appliance-key.js';
import { readLocal, writeLocal } from '../lib/local-storage.js';
import { ownerAt, presentVisit } from '../lib/present-visit.js';
import { TICKS, TICKS_LEFT } from '../lib/tick-places.js';
import { keepPlace } from './resume.js';

const NOT_KEPT =
  'The last tick is not kept: this browser has no room, or blocks storage. It goes when you leave this page.';

let areKept = true;

/** @returns {Set<string>} every step that is ticked, as `procedure.step` */
function ticked() {
  return new Set((readLocal(TICKS) ?? '').split(' ').filter(Boolean));
}

/** @returns {HTMLInputElement[]} the boxes of this page */
function boxes() {
  return [...document.querySelectorAll('input[data-hb-tick]')].map(
    (box) => /** @type {HTMLInputElement} */ (box),
  );
}

/** @param {HTMLInputElement} box @returns {string} */
const procedureOf = (box) =>
  box.closest('[data-hb-procedure]')?.getAttribute('data-hb-procedure') ?? '';

/** @param {HTMLInputElement} box @returns {string} as `procedure.step` */
const nameOf = (box) => `${procedureOf(box)}.${box.dataset.hbTick}`;

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

/** @param {HTMLInputElement[]} changed each goes into the visit that is open, by the record's script */
function remember(changed) {
  const done = ticked();
  for (const box of changed) {
    if (box.checked) done.add(nameOf(box));
    else done.delete(nameOf(box));
  }
  areKept = writeLocal(TICKS, [...done].join(' ') || null) && leave(changed);
  document.dispatchEvent(new CustomEvent('hb:ticked'));
}

/**
 * Leaves them where the record's script looks for what was typed: it may not be there yet, and a page
 * that goes can start nothing that takes time.
 *
 * @param {HTMLInputElement[]} changed
 */
function leave(changed) {
  const visit = presentVisit()?.id;
  if (!visit) return true;
  const at = new Date().toISOString();
  const fresh = changed.map((box) => {
    const appliance = ownerAt(box);
    const about = { procedure: procedureOf(box), step: box.dataset.hbTick ?? '' };
    const entry = box.checked ? { kind: 'tick', ...about, at, appliance } : null;
    return { visit, key: storedKey(`tick:${nameOf(box)}`, appliance), at, entry };
  });
  const keys = new Set(fresh.map(({ key }) => key));
  const others = left().filter(({ key }) => !keys.has(key));
  return writeLocal(TICKS_LEFT, JSON.stringify([...others, ...fresh]));
}

/** @returns {{key: string}[]} */
function left() {
  try {
    const all = JSON.parse(readLocal(TICKS_LEFT) ?? '[]');
    return Array.isArray(all) ? all : [];
  } catch {
    return [];
  }
}

function clear() {
  const all = boxes();
  const changed = all.filter((box) => box.checked);
  for (const box of changed) box.checked = false;
  remember(changed);
  keepPlace(all);
  showClear();
}

export function startTicks() {
  document.addEventListener('change', (event) => {
    if (!(event.target instanceof HTMLInputElement) || !event.target.dataset.hbTick) return;
    remember([event.target]);
    keepPlace(boxes());
    showClear();
  });
  document.addEventListener('click', (event) => {
    if (event.target instanceof Element && event.target.closest('[data-hb-ticks-clear]')) clear();
  });
}
