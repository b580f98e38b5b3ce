import { find, setText } from '../lib/find.js';
import { ownPerson } from '../own/own-person.js';

/** Name and registration as the reader keeps them for print: it is no signature. */
/** @param {HTMLElement} root */
export function showPersonLine(root) {
  const { name, registration } = ownPerson();
  const words = [name, registration && `registration ${registration}`].filter(Boolean).join(', ');
  const line = find(root, '[data-hb-person-line]');
  line.hidden = !words;
  setText(line, words && `Worked by: ${words}. As typed on this device.`);
}
