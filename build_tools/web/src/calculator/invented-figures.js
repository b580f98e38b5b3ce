/**
 * Which fields of a form hold a figure of the invented example. They must never get into the
 * record of a real visit, so the form knows them until the reader types something else.
 */
export class InventedFigures {
  /** @type {HTMLFormElement} */ #form;
  /** @type {Set<string>} names of controls */ #names = new Set();

  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.#form = form;
  }

  /** @returns {string[]} */
  get names() {
    return [...this.#names];
  }

  /** @param {string[]} names as a reload brings them back */
  set names(names) {
    this.#names = new Set(names);
  }

  /** @param {Record<string, string>} values of the example, by the name of the control */
  remember(values) {
    this.#names = new Set(Object.keys(values).filter((name) => this.#typedIn(name)));
  }

  /** @param {string[]} names */
  forget(names) {
    for (const name of names) this.#names.delete(name);
  }

  forgetAll() {
    this.#names.clear();
  }

  /** @returns {string[]} of the fields that show such a figure */
  get labels() {
    const shown = this.names.map((name) => this.#typedIn(name)).filter((input) => input?.value);
    return shown
      .map((input) => {
        const field = input?.closest('[data-hb-field]:not([hidden])');
        const label = input?.ariaLabel ?? field?.querySelector('[data-hb-label]')?.textContent;
        return field ? (label ?? '') : '';
      })
      .filter(Boolean);
  }

  /**
   * A choice or a day is no figure: the example's may well be the reader's own.
   *
   * @param {string} name
   */
  #typedIn(name) {
    const control = this.#form.elements.namedItem(name);
    return control instanceof HTMLInputElement && control.type === 'text' ? control : null;
  }
}
