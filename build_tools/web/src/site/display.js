import { tellIfNotKept } from '../lib/setting-not-kept.js';
import { theme } from './theme-script.js';

/** What the theme has kept on this device: partials/javascripts/base.html. */
const keeper = /** @type {{__md_get?: (name: string) => {index: number} | null}} */ (
  /** @type {unknown} */ (globalThis)
);

const AUTOMATIC = '(prefers-color-scheme)';
const OF_A_DEVICE = /: (?:light|dark)/;

/**
 * The lists of displays, in the header and at the foot of the menu. The theme keeps the choice in
 * radio buttons, one for each; the lists choose among those.
 */
export function startDisplay() {
  const radios = [...document.querySelectorAll('[name="__palette"]')].map(
    (radio) => /** @type {HTMLInputElement} */ (radio),
  );
  if (!radios.length) return;
  document.addEventListener('change', ({ target }) => {
    if (!(target instanceof HTMLSelectElement) || !target.closest('[data-hb-display]')) return;
    show(target.value);
    void theme().then(() => choose(radios[Number(target.value)], target));
  });
  // A device turns dark in the evening.
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => follow(radios));
  const open = () => {
    addToMenu();
    show(String(radios.findIndex(isChosen)));
  };
  document.addEventListener('hb:page', open); // the menu came anew, and its list with it
  open();
}

/**
 * Shows what the device asks for, where the choice is left to it, as
 * partials/javascripts/palette.html does before the first paint. Nothing has to be fetched for it.
 *
 * @param {HTMLInputElement[]} radios
 */
function follow(radios) {
  const { dataset: shown } = document.body;
  if (shown.mdColorMedia !== AUTOMATIC) return;
  const asked = radios.find(({ dataset: { mdColorMedia: media = '' } }) => {
    return OF_A_DEVICE.test(media) && matchMedia(media).matches;
  });
  const { dataset } = asked ?? radios.find(isChosen) ?? document.body;
  for (const part of ['mdColorScheme', 'mdColorPrimary', 'mdColorAccent']) {
    shown[part] = dataset[part] ?? '';
  }
}

/** The list stands in the page once: without a script none is shown. */
function addToMenu() {
  const list = document.querySelector('[data-hb-display]');
  const place = document.querySelector('[data-hb-display-here]');
  if (!list || place?.firstChild) return;
  const another = /** @type {HTMLElement} */ (list.cloneNode(true));
  another.classList.remove('hb-display--header');
  place?.append(another);
}

/**
 * The theme shows a display and keeps it.
 *
 * @param {HTMLInputElement | undefined} radio
 * @param {HTMLSelectElement} list
 */
function choose(radio, list) {
  radio?.click();
  const label = list.closest('[data-hb-display]');
  const isKept = keeper.__md_get?.('__palette')?.index === Number(list.value);
  // The device's own display is what is there with nothing kept.
  if (label) tellIfNotKept(label, isKept || radio?.dataset.mdColorMedia === AUTOMATIC);
}

/** @param {string} value the number of a display */
function show(value) {
  for (const list of document.querySelectorAll('[data-hb-display]')) {
    const select = list.querySelector('select');
    if (select) select.value = value;
    if (list instanceof HTMLElement) list.hidden = false;
  }
}

/** @param {HTMLInputElement} radio */
function isChosen({ dataset }) {
  const { mdColorMedia: media, mdColorScheme: scheme } = document.body.dataset;
  const fits = dataset.mdColorScheme === scheme || media === AUTOMATIC;
  return dataset.mdColorMedia === media && fits;
}
