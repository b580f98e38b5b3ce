import { readLocal, writeLocal } from '../lib/local-storage.js';
import { tellIfNotKept } from '../lib/setting-not-kept.js';

const KEY = 'hb:scheme';

/** The choice of display. assets/handbook/scheme.js puts a kept one in place before painting. */
export function startScheme() {
  const choice = document.querySelector('[data-hb-scheme-choice]');
  const select = document.querySelector('[data-hb-scheme-select]');
  if (!(choice instanceof HTMLElement) || !(select instanceof HTMLSelectElement)) return;
  select.value = readLocal(KEY) ?? '';
  choice.hidden = false;
  select.addEventListener('change', () => {
    tellIfNotKept(choice, writeLocal(KEY, select.value || null));
    if (select.value) document.documentElement.dataset.hbScheme = select.value;
    else delete document.documentElement.dataset.hbScheme;
  });
}
