/** How it goes, topic by topic: nothing is added up into a score. */

import { downloadText } from '../lib/download.js';
import { find } from '../lib/find.js';
import { make } from './elements.js';
import { clearProgress, readProgress } from './progress.js';
import { countDue } from './schedule.js';

/** @param {HTMLElement} root @param {() => void} cleared */
export function startProgress(root, cleared) {
  const ask = find(root, '[data-hb-practice-sure-clear]');
  const act = (/** @type {string} */ name, /** @type {() => void} */ done) =>
    find(root, `[data-hb-practice-${name}]`).addEventListener('click', done);
  act('export', () => {
    const text = JSON.stringify(readProgress(), null, 1);
    downloadText('practice.json', text, 'application/json');
  });
  act('clear', () => {
    ask.hidden = false;
    find(ask, '[data-hb-practice-spare]').focus();
  });
  act('spare', () => {
    ask.hidden = true;
  });
  act('clear-now', () => {
    clearProgress();
    ask.hidden = true;
    cleared();
  });
}

/**
 * @param {HTMLElement} root
 * @param {(topic: string) => string} titleOf
 * @param {Map<string, string>} slips words of each slip, once the questions are loaded
 */
export function showProgress(root, titleOf, slips) {
  const progress = readProgress();
  const topics = [...new Set(progress.answers.map(({ topic }) => topic))];
  const hasAny = topics.length > 0;
  root.hidden = false;
  find(root, '[data-hb-practice-none]').hidden = hasAny;
  find(root, '[data-hb-practice-kept]').hidden = !hasAny;
  const now = new Date();
  const rows = topics.map((topic) => {
    const answers = progress.answers.filter((each) => each.topic === topic);
    const alone = answers.findLast((each) => each.right && each.alone);
    const slip = commonest(answers.flatMap((each) => each.slips));
    const unsafe = answers.filter((each) => each.unsafe).length;
    const said = slip ? (slips.get(slip) ?? progress.said?.[slip] ?? '–') : 'none';
    const facts = [
      ['Last right alone', alone ? dayOf(alone.at) : 'not yet'],
      ['Due', String(countDue(progress, topic, now))],
      ['Commonest slip', said],
      ['Unsafe choices', String(unsafe)],
    ];
    const list = make('dl', { is: 'hb-practice__facts' });
    for (const [term = '', fact] of facts) {
      list.append(make('div', {}, [make('dt', { text: term }), make('dd', { text: fact })]));
    }
    return make('li', {}, [make('h3', { text: titleOf(topic) }), list]);
  });
  find(root, '[data-hb-practice-rows]').replaceChildren(...rows);
}

/** @param {string[]} names @returns {string | undefined} */
function commonest(names) {
  const counts = new Map();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].sort((one, other) => other[1] - one[1])[0]?.[0];
}

/** @param {string} iso */
const dayOf = (iso) =>
  new Date(iso).toLocaleDateString('en-GB', { day: 'numeric', month: 'short' });
