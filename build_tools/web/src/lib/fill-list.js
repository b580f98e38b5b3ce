/** Fills lists from templates: text through textContent, into nodes that are already there. */

import { setText } from './find.js';

/** @typedef {import('../protocol/bridge-types.js').Item} Item */

/** A term with its slots, such as the source of a limit with its provenance. */
const FACT = '[data-hb-fact]';

/**
 * @typedef {object} Places where an item is written
 * @property {HTMLElement[]} slots
 * @property {{fact: HTMLElement, slots: HTMLElement[]}[]} facts
 */

/** @type {WeakMap<Element, Places>} An item's places stay what they are as long as it lives. */
const known = new WeakMap();

/**
 * The slots of an item inside it, such as a cell of a table, are not its own.
 *
 * @param {Element} node
 * @returns {Places}
 */
function placesOf(node) {
  let places = known.get(node);
  if (!places) {
    const slots = slotsIn(node).filter((slot) => slot.closest('[data-hb-item]') === node);
    if (node.matches('[data-hb-slot]')) slots.unshift(/** @type {HTMLElement} */ (node));
    const facts = /** @type {HTMLElement[]} */ ([...node.querySelectorAll(FACT)]);
    places = { slots, facts: facts.map((fact) => ({ fact, slots: slotsIn(fact) })) };
    known.set(node, places);
  }
  return places;
}

/** @param {Element} node */
function slotsIn(node) {
  return /** @type {HTMLElement[]} */ ([...node.querySelectorAll('[data-hb-slot]')]);
}

/**
 * Writes the texts of one item into its slots. An empty slot is hidden, and a
 * term with no slot to show.
 *
 * @param {Element} node
 * @param {Item} item
 */
function fillSlots(node, item) {
  const { slots, facts } = placesOf(node);
  for (const slot of slots) {
    const text = String(item[slot.dataset.hbSlot ?? ''] ?? '');
    setText(slot, text);
    slot.hidden = text === '';
  }
  for (const { fact, slots: within } of facts) fact.hidden = within.every((slot) => slot.hidden);
}

/**
 * A fresh copy of the item that a template holds.
 *
 * @param {ParentNode} root
 * @param {string} name
 * @returns {HTMLElement}
 */
export function copyTemplate(root, name) {
  // Several calculators on one page share the templates of the first.
  const selector = `template[data-hb-template="${name}"]`;
  const template = root.querySelector(selector) ?? document.querySelector(selector);
  if (!(template instanceof HTMLTemplateElement)) throw new Error(`No template ${name}.`);
  const item = template.content.querySelector('[data-hb-item], [data-hb-row]');
  if (!item) throw new Error(`The template ${name} holds no item.`);
  return /** @type {HTMLElement} */ (document.importNode(item, true));
}

/**
 * Makes the list `name` inside `root` show `items`. Nodes of the same template are kept, so
 * that an answer that changes by a digit changes one text node.
 *
 * @param {ParentNode} root
 * @param {string} name
 * @param {Item[]} items
 * @param {{template?: (item: Item) => string, finish?: (node: HTMLElement, item: Item) => void}} [how]
 */
export function fillList(root, name, items, { template = () => name, finish } = {}) {
  const list = root.querySelector(`[data-hb-list="${name}"]`);
  if (!(list instanceof HTMLElement)) return;
  const before = /** @type {HTMLElement[]} */ ([...list.children]);
  items.forEach((item, position) => {
    const wanted = template(item);
    let node = before[position];
    if (!node || (node.dataset.hbOf ?? name) !== wanted) {
      const fresh = copyTemplate(root, wanted);
      if (node) node.replaceWith(fresh);
      else list.append(fresh);
      node = fresh;
    }
    node.dataset.hbOf = wanted;
    fillSlots(node, item);
    finish?.(node, item);
  });
  for (const extra of before.slice(items.length)) extra.remove();
  const part = /** @type {HTMLElement} */ (list.closest('[data-hb-part]') ?? list);
  part.hidden = items.length === 0;
}
