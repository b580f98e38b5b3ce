import { siteUrl } from '../lib/site-url.js';
import { loadWords } from './search-words.js';

/** @typedef {import('./search-words.js').Entry} Entry */

const WORDS = 110; // letters of the text shown below a hit

/**
 * @param {Entry} entry
 * @returns {HTMLLIElement}
 */
function hit(entry) {
  const item = document.createElement('li');
  const link = document.createElement('a');
  link.className = 'hb-search__hit';
  link.href = new URL(entry.url, siteUrl()).href;
  const title = document.createElement('span');
  title.className = 'hb-search__title';
  title.textContent = entry.heading ? `${entry.title}: ${entry.heading}` : entry.title;
  const words = document.createElement('span');
  words.className = 'hb-search__words';
  words.textContent = entry.text.length > WORDS ? `${entry.text.slice(0, WORDS)}…` : entry.text;
  link.append(title, words);
  item.append(link);
  return item;
}

function nothing() {
  const item = document.createElement('li');
  item.className = 'hb-search__none';
  item.textContent = 'Nothing found. Try another word.';
  return item;
}

export function startSearch() {
  const form = document.querySelector('[data-hb-search]');
  const field = form?.querySelector('[data-hb-search-field]');
  const list = form?.querySelector('[data-hb-search-list]');
  const status = form?.querySelector('[data-hb-search-status]');
  if (!(form instanceof HTMLFormElement) || !(field instanceof HTMLInputElement)) return;
  if (!(list instanceof HTMLElement) || !status) return;
  form.hidden = false;

  const close = () => {
    list.hidden = true;
    status.textContent = '';
  };
  const show = async () => {
    const asked = field.value;
    if (!asked.trim()) return close();
    try {
      const hits = (await loadWords()).find(asked);
      if (asked !== field.value) return;
      list.replaceChildren(...(hits.length ? hits.map(hit) : [nothing()]));
      list.hidden = false;
      status.textContent = hits.length === 1 ? '1 place found.' : `${hits.length} places found.`;
    } catch (error) {
      list.hidden = true;
      status.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  field.addEventListener('focus', () => void loadWords().catch(() => {}));
  field.addEventListener('input', () => void show());
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const first = list.querySelector('a');
    if (!list.hidden && first) first.click();
  });
  form.addEventListener('keydown', (event) => step(event, field, list, close));
  document.addEventListener('click', (event) => {
    const target = event.target;
    if (target instanceof Node && (!form.contains(target) || list.contains(target))) close();
  });
  document.addEventListener('hb:page', () => {
    field.value = '';
    close();
  });
}

/**
 * Arrows walk through the hits, Escape leaves them.
 *
 * @param {KeyboardEvent} event
 * @param {HTMLInputElement} field
 * @param {HTMLElement} list
 * @param {() => void} close
 */
function step(event, field, list, close) {
  if (event.key === 'Escape') {
    close();
    field.focus();
  }
  if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
  const stops = [field, ...(list.hidden ? [] : list.querySelectorAll('a'))];
  const at = stops.findIndex((each) => each === document.activeElement);
  const next = stops[at + (event.key === 'ArrowDown' ? 1 : -1)];
  if (!next) return;
  event.preventDefault();
  next.focus();
}
