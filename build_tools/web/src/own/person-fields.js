/** The fields of the emergency number, and of the name and the registration for print. */

import { find, setText } from '../lib/find.js';
import { own } from './own-kept.js';
import { isNumber, ownPerson, PERSON } from './own-person.js';

const NO_NUMBER = 'Not kept: a number has digits and spaces, and may begin with +.';

/** @param {HTMLElement} root @param {string} key @returns {HTMLInputElement} */
const field = (root, key) =>
  /** @type {HTMLInputElement} */ (find(root, `input[data-hb-person="${key}"]`));

/** @param {HTMLElement} root */
export function showPerson(root) {
  const person = ownPerson();
  for (const key of PERSON) {
    const input = field(root, key);
    const isRefused = input.getAttribute('aria-invalid') === 'true';
    if (document.activeElement !== input && !isRefused) input.value = person[key];
  }
}

/**
 * @param {HTMLElement} root
 * @param {(isKept: boolean) => void} after each change
 */
export function startPerson(root, after) {
  const said = find(root, '[data-hb-person-said]');
  for (const key of PERSON) {
    const input = field(root, key);
    input.addEventListener('change', () => {
      const text = input.value.trim().replaceAll(/\s+/g, ' ');
      const isRight = key !== 'contact' || text === '' || isNumber(text);
      input.setAttribute('aria-invalid', String(!isRight));
      if (key === 'contact') setText(said, isRight ? '' : NO_NUMBER);
      said.dataset.state = isRight ? '' : 'error';
      if (isRight) after(own.change({ [key]: text }));
    });
  }
}
