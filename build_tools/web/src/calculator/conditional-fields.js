import { conditionIn } from './condition.js';

/**
 * Shows a field only while the choice that it depends on has one of the values that its condition
 * names. A field that depends on a hidden field is hidden too.
 * `data-hb-wide` tells the style that a table to fill is among those shown.
 */
export class ConditionalFields {
  /** @type {HTMLFormElement} */ #form;
  /** @type {HTMLElement} */ #root;
  /** @type {HTMLElement[]} */ #fields;

  /**
   * @param {HTMLElement} root the calculator
   * @param {HTMLFormElement} form
   */
  constructor(root, form) {
    this.#root = root;
    this.#form = form;
    this.#fields = [...form.querySelectorAll('[data-hb-when]')].map(
      (field) => /** @type {HTMLElement} */ (field),
    );
  }

  apply() {
    for (const field of this.#fields) {
      const { choice = '', values = [] } = conditionIn(field.dataset.hbWhen) ?? {};
      const owner = this.#form.querySelector(`[data-hb-field="${choice}"]`);
      const holds =
        owner instanceof HTMLElement && !owner.hidden && values.includes(this.#value(choice));
      if (field.hidden === holds) field.hidden = !holds;
    }
    const isWide = this.#form.querySelector('[data-hb-kind="rows"]:not([hidden])') !== null;
    this.#root.toggleAttribute('data-hb-wide', isWide);
  }

  /** @param {string} name */
  #value(name) {
    const control = this.#form.elements.namedItem(name);
    if (control instanceof RadioNodeList || control instanceof HTMLSelectElement) {
      return control.value;
    }
    return control instanceof HTMLInputElement ? control.value : '';
  }
}
