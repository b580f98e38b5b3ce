/**
 * The reader's own emergency number wherever the host's contact stands: beside it, or in place of the
 * words that there is none. No number is ever guessed.
 */

import { siteUrl } from '../lib/site-url.js';
import { own } from '../own/own-kept.js';
import { ownPerson } from '../own/own-person.js';

const FIELD = 'own/your_own.html#you';

export function showContact() {
  const { contact } = ownPerson();
  document.documentElement.toggleAttribute('data-hb-own-number', contact !== '');
  for (const place of document.querySelectorAll('[data-hb-contact]')) {
    const unset = place.querySelector('[data-hb-contact-unset]');
    unset?.toggleAttribute('hidden', contact !== '');
    const there = place.querySelector('[data-hb-own-contact]');
    if (!contact && !unset) there?.remove();
    else fill(place, there, contact);
  }
}

/** @param {Element} place @param {Element | null} there @param {string} contact empty: the way to set it */
function fill(place, there, contact) {
  const link = /** @type {HTMLAnchorElement} */ (there ?? document.createElement('a'));
  link.className = 'hb-own-contact';
  link.dataset.hbOwnContact = '';
  link.href = contact ? `tel:${contact.replaceAll(' ', '')}` : new URL(FIELD, siteUrl()).href;
  link.textContent = contact ? `Call ${contact}, your own number` : 'Set your emergency number';
  if (!there) place.append(' ', link);
}

export function startContact() {
  own.onChange(showContact);
}
