import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { tellIfNotKept } from '../lib/setting-not-kept.js';
import { siteUrl } from '../lib/site-url.js';
import { timers } from './timers.js';
import { tone } from './tone.js';

/** @typedef {import('./timer.js').Timer} Timer */

const SURE_MS = 4000;
const NOT_KEPT =
  'Not kept: this browser has no room, or blocks storage. Stay on the pages of this window, and do not reload';

/** The timers of this device, at the foot of every page, each leading back to its step. */
export function startTimersBar() {
  const bar = document.querySelector('[data-hb-timers]');
  if (!(bar instanceof HTMLElement)) return;
  document.addEventListener('hb:timers', (event) => {
    show(bar);
    const { ringing } = /** @type {CustomEvent<{ringing: Timer[]}>} */ (event).detail;
    if (!timers.areKept) setText(find(bar, '[data-hb-timers-said]'), `${NOT_KEPT}.`);
    if (ringing.length) setText(find(bar, '[data-hb-timers-said]'), ringing.map(ended).join(' '));
  });
  document.addEventListener('hb:page', () => showSound());
  document.addEventListener('change', (event) => {
    if (event.target instanceof HTMLInputElement && event.target.matches('[data-hb-sound]')) {
      setSound(event.target);
    }
  });
  // After a reload a browser waits for a touch before it lets the page sound.
  for (const touch of ['pointerup', 'keydown']) {
    document.addEventListener(touch, () => {
      if (timers.someSound && !tone.isReady) tone.unlock();
    });
  }
  find(bar, '[data-hb-timers-clear]').addEventListener('click', clearing(bar));
  showSound();
  timers.begin();
}

/** @param {HTMLElement} bar */
function show(bar) {
  const all = timers.inOrder;
  bar.hidden = all.length === 0;
  document.documentElement.toggleAttribute('data-hb-timing', all.length > 0);
  const items = all.map((timer) => ({
    time: timer.state === 'over' ? 'Time is up' : timer.text,
    name: timer.about.name,
    where: timer.about.where,
    address: timer.about.address,
    state: timer.state,
    isOld: timer.isOld ? 'yes' : '',
    note: [
      {
        running: '',
        paused: timer.isWatch ? 'stopped' : 'paused',
        over: `${timer.lateText} ago`,
      }[timer.state],
      timers.areKept ? '' : NOT_KEPT,
    ]
      .filter(Boolean)
      .join('. '),
  }));
  fillList(bar, 'timers', items, {
    finish(node, { address, state, isOld }) {
      const link = find(node, 'a');
      const href = new URL(String(address), siteUrl()).href;
      if (link.getAttribute('href') !== href) link.setAttribute('href', href);
      node.dataset.state = String(state);
      node.toggleAttribute('data-hb-old', isOld === 'yes');
    },
  });
  find(bar, '[data-hb-timers-mute]').hidden = !tone.isOn || tone.isReady || !timers.someSound;
}

/** @param {Timer} timer */
const ended = ({ about }) => `Time is up: ${about.name}. ${about.where}.`;

/** @param {HTMLInputElement} box */
function setSound(box) {
  const isKept = tone.choose(box.checked);
  tellIfNotKept(box.closest('label') ?? box, isKept);
  if (tone.isOn) {
    tone.unlock();
    // So that the reader hears how loud it is.
    setTimeout(() => tone.play(), 100);
  } else tone.rest();
  showSound();
}

function showSound() {
  for (const box of document.querySelectorAll('[data-hb-sound]')) {
    /** @type {HTMLInputElement} */ (box).checked = tone.isOn;
  }
}

/**
 * While something runs, a glove must hit the button twice.
 *
 * @param {HTMLElement} bar
 */
function clearing(bar) {
  const words = find(bar, '[data-hb-timers-clear]');
  const usual = words.textContent ?? '';
  let sure = false;
  const calm = () => {
    sure = false;
    setText(words, usual);
  };
  return () => {
    if (timers.someRun && !sure) {
      sure = true;
      setText(words, words.dataset.hbText ?? '');
      setTimeout(calm, SURE_MS);
      return;
    }
    calm();
    timers.clearAll();
  };
}
