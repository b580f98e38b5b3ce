import { find } from '../lib/find.js';
import { ConditionalFields } from './conditional-fields.js';
import { FormMemory } from './form-memory.js';
import { FormReader } from './form-reader.js';
import { InventedFigures } from './invented-figures.js';
import { OutcomeView } from './outcome-view.js';
import { RefusalView } from './refusal-view.js';

/** @typedef {import('../protocol/bridge-types.js').Given} Given */
/** @typedef {ReturnType<typeof partsOf>} Parts */

/** @param {HTMLElement} root the calculator, as the page was built */
export function partsOf(root) {
  const form = /** @type {HTMLFormElement} */ (find(root, '[data-hb-form]'));
  /** @type {Record<string, Given>} the readings of the worked example */
  const example = JSON.parse(root.dataset.hbGiven ?? '{}');
  const invented = new InventedFigures(form);
  return {
    form,
    example,
    invented,
    reader: new FormReader(form),
    conditions: new ConditionalFields(root, form),
    memory: new FormMemory(form, root, invented),
    refusals: new RefusalView(form),
    outcome: new OutcomeView(root),
  };
}
