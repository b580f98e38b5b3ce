/** A reading of which one of a few words is chosen by one touch, such as "yes" or "does not apply". */

let count = 0;

export class WordChoice extends HTMLElement {
  /** @type {HTMLButtonElement | undefined} takes the word out again */ #out;

  /**
   * @param {string} id
   * @param {string[]} options
   * @param {string} label
   */
  make(id, options, label) {
    count += 1;
    this.id = id;
    this.className = 'hb-words';
    this.dataset.hbWords = `hb-words-${count}`;
    this.setAttribute('role', 'radiogroup');
    for (const text of options) this.append(this.#option(text));
    const out = document.createElement('button');
    Object.assign(out, { type: 'button', className: 'hb-words__out', textContent: '×' });
    out.setAttribute('aria-label', `Take out: ${label}`);
    out.addEventListener('click', () => this.#takeOut());
    this.#out = out;
    this.append(out);
    this.addEventListener('input', () => this.#shown());
    this.#shown();
    return this;
  }

  /** @returns {string} the word that is chosen; empty without one */
  get value() {
    return this.#chosen?.value ?? '';
  }

  /** A word of another edition stays in sight and can be chosen again. */
  set value(text) {
    const isThere = this.#radios.some((radio) => radio.value === text);
    if (text && !isThere) this.#out?.before(this.#option(text));
    for (const radio of this.#radios) radio.checked = radio.value === text;
    this.#shown();
  }

  get #radios() {
    return [...this.querySelectorAll('input')];
  }

  get #chosen() {
    return this.#radios.find((radio) => radio.checked);
  }

  /** @param {string} text */
  #option(text) {
    const [label, radio] = [document.createElement('label'), document.createElement('input')];
    const name = this.dataset.hbWords ?? '';
    const id = `${name}-${this.#radios.length + 1}`;
    Object.assign(radio, { type: 'radio', id, name, value: text, autocomplete: 'off' });
    radio.className = 'hb-choice__radio';
    Object.assign(label, { htmlFor: id, className: 'hb-choice__label', textContent: text });
    const place = document.createElement('span');
    place.className = 'hb-choice';
    place.append(radio, label);
    return place;
  }

  #takeOut() {
    this.value = '';
    this.#radios[0]?.focus();
    for (const type of ['input', 'change']) this.dispatchEvent(new Event(type, { bubbles: true }));
  }

  #shown() {
    if (this.#out) this.#out.hidden = !this.value;
  }
}

customElements.define('hb-words', WordChoice);
