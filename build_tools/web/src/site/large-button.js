/** Beside the ways to read a procedure: its steps one by one, large, for a class. */

import { siteUrl } from '../lib/site-url.js';

let isLoaded = false;

function open() {
  if (isLoaded) document.dispatchEvent(new CustomEvent('hb:large'));
  else {
    isLoaded = true;
    const script = document.createElement('script');
    script.src = new URL('assets/handbook/large.js', siteUrl()).href;
    document.head.append(script);
  }
}

/** A page gets its button from here, so that none carries it that has no script. */
export function showLargeButton() {
  const ways = document.querySelector('.hb-ways');
  if (!ways || document.querySelector('[data-hb-large-open]')) return;
  const made = document.createElement('button');
  Object.assign(made, { type: 'button', className: 'hb-button hb-large-open' });
  made.textContent = 'On a projector';
  made.dataset.hbLargeOpen = '';
  made.addEventListener('click', open);
  ways.after(made);
}
