/** The reader's own instruments, each with its fields, as the page lists them. */

import { cautionSign } from '../lib/caution-sign.js';
import { fillList } from '../lib/fill-list.js';
import { find } from '../lib/find.js';
import { keepOwnInstruments, MOST, ownInstruments, TYPED } from './own-instruments.js';

/** @typedef {import('./own-instruments.js').OwnInstrument} OwnInstrument */
/** @typedef {{state: string, text: string}} Told */

/** @param {HTMLElement} root @returns {HTMLSelectElement} */
const kinds = (root) => /** @type {HTMLSelectElement} */ (find(root, '[data-hb-own-kind]'));

/** @param {HTMLElement} root @param {string} kind */
const optionOf = (root, kind) => [...kinds(root).options].find(({ value }) => value === kind);

/** @param {HTMLElement} root @param {string} kind those of one family are used in place of one another */
const alike = (root, kind) => optionOf(root, kind)?.dataset.hbAlike ?? kind;

/** @param {HTMLElement} root @param {OwnInstrument} each */
const titleOf = (root, { kind, name }) => {
  const title = optionOf(root, kind)?.textContent ?? kind;
  return name ? `${title}: ${name}` : title;
};

/** @param {HTMLElement} root */
export function showInstruments(root) {
  const instruments = ownInstruments();
  const items = instruments.map((each) => ({ id: each.id }));
  fillList(root, 'own-instruments', items, {
    finish(node, { id }) {
      const instrument = instruments.find((each) => each.id === id);
      node.dataset.hbOwnInstrument = String(id);
      if (instrument) fill(root, node, instrument);
    },
  });
}

/** @param {HTMLElement} root @param {HTMLElement} node @param {OwnInstrument} instrument */
function fill(root, node, instrument) {
  find(node, '[data-hb-own-title]').textContent = titleOf(root, instrument);
  find(node, '[data-hb-own-out]').setAttribute(
    'aria-label',
    `Take it out: ${titleOf(root, instrument)}`,
  );
  for (const key of TYPED) {
    const input = field(node, key);
    if (input !== document.activeElement) input.value = instrument[key];
  }
  field(node, 'in_use').checked = instrument.in_use;
}

/** @param {HTMLElement} node @param {string} key @returns {HTMLInputElement} */
const field = (node, key) =>
  /** @type {HTMLInputElement} */ (find(node, `input[data-hb-key="${key}"]`));

/** @param {HTMLElement} root @param {Told[]} told in the order of the list */
export function tellInstruments(root, told) {
  for (const [number, node] of [...root.querySelectorAll('[data-hb-own-instrument]')].entries()) {
    const { state = '', text = '' } = told[number] ?? {};
    const place = find(node, '[data-hb-own-told]');
    place.dataset.state = state === 'refused' ? 'error' : state;
    if (place.textContent !== text) {
      place.replaceChildren(...(state === 'past' ? [cautionSign()] : []), text);
    }
  }
}

/**
 * @param {HTMLElement} root
 * @param {(isKept: boolean) => void} after each change
 */
export function startInstruments(root, after) {
  find(root, '[data-hb-own-add]').addEventListener('click', () => {
    const all = ownInstruments();
    if (all.length >= MOST) return;
    const fresh = blank(kinds(root).value);
    after(keepOwnInstruments(inUse(root, [...all, fresh], fresh)));
    const there = root.querySelector(`[data-hb-own-instrument="${fresh.id}"]`);
    if (there) field(/** @type {HTMLElement} */ (there), 'name').focus();
  });
  const list = find(root, '[data-hb-list="own-instruments"]');
  list.addEventListener('change', ({ target }) => {
    if (target instanceof HTMLInputElement) after(keepOwnInstruments(changed(root, target)));
  });
  list.addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('button') : null;
    if (button) pressed(button, after);
  });
}

/** @param {string} kind @returns {OwnInstrument} */
function blank(kind) {
  const texts = Object.fromEntries(TYPED.map((key) => [key, '']));
  const id = [...crypto.getRandomValues(new Uint8Array(8))].map((each) => each.toString(16));
  const at = new Date().toISOString();
  return /** @type {OwnInstrument} */ ({ id: id.join(''), kind, ...texts, in_use: true, at });
}

/** @param {HTMLElement} root @param {HTMLInputElement} input @returns {OwnInstrument[]} */
function changed(root, input) {
  const id = idOf(input);
  const key = input.dataset.hbKey ?? '';
  const all = ownInstruments();
  const one = all.find((each) => each.id === id);
  if (!one) return all;
  const value = key === 'in_use' ? input.checked : input.value.trim().replaceAll(/\s+/g, ' ');
  Object.assign(one, { [key]: withUnit(root, one.kind, key, value), at: new Date().toISOString() });
  return one.in_use ? inUse(root, all, one) : all;
}

/** Of those that are used in place of one another readings are taken with one. */
function inUse(
  /** @type {HTMLElement} */ root,
  /** @type {OwnInstrument[]} */ all,
  /** @type {OwnInstrument} */ one,
) {
  const ofIts = (/** @type {OwnInstrument} */ each) =>
    each !== one && alike(root, each.kind) === alike(root, one.kind);
  return all.map((each) => (ofIts(each) ? { ...each, in_use: false } : each));
}

/**
 * A number alone is in the unit of its kind; "0.5 %" says itself that it is a share.
 *
 * @param {HTMLElement} root
 * @param {string} kind
 * @param {string} key
 * @param {string | boolean} value
 */
function withUnit(root, kind, key, value) {
  const unit = optionOf(root, kind)?.dataset.hbUnit;
  const isNumber = typeof value === 'string' && /^[+-]?[0-9.,]+$/.test(value);
  const isFigure = key === 'resolution' || key === 'accuracy';
  return isFigure && isNumber && unit ? `${value} ${unit}` : value;
}

/** @param {Element} part of an instrument */
const idOf = (part) =>
  /** @type {HTMLElement | null} */ (part.closest('[data-hb-own-instrument]'))?.dataset
    .hbOwnInstrument;

/** @param {HTMLButtonElement} button @param {(isKept: boolean) => void} after */
function pressed(button, after) {
  const item = /** @type {HTMLElement} */ (button.closest('[data-hb-own-instrument]'));
  const sure = find(item, '[data-hb-sure]');
  const out = find(item, '[data-hb-own-out]');
  if (button === out) {
    sure.hidden = false;
    find(item, '[data-hb-own-keep]').focus();
    return;
  }
  sure.hidden = true;
  out.focus();
  if (!button.matches('[data-hb-own-out-now]')) return;
  const id = idOf(item);
  after(keepOwnInstruments(ownInstruments().filter((each) => each.id !== id)));
  // The node may show another instrument now.
  /** @type {HTMLElement | null} */ (document.querySelector('[data-hb-own-add]'))?.focus();
}
