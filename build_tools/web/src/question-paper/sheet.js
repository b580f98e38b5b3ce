/** A paper to print, without or with answers, and the tutor's sheet. In grey: no colour tells. */

import { thisEdition } from '../lib/edition.js';
import { drawn } from '../practice/drawing.js';
import { make } from '../practice/elements.js';
import { addressOf, resultsAddress } from './seed.js';

/** @typedef {import('./ask-papers.js').Paper} Paper */
/** @typedef {import('./ask-papers.js').Asked} Asked */
/** @typedef {{name: string, label: string, symbols: string, numbers: string, result: string}} Line */
/** @typedef {Asked & {answer?: string | string[], because?: string, sum?: string, pairs?: string, working?: Line[], marked?: string[], unsafe?: string[], why?: string}} Keyed */

/** @param {Paper} paper */
export function paperSheet(paper) {
  const isKey = 'answer' in (paper.asked[0] ?? {});
  const list = make('ol', { is: 'hb-papers__asked' });
  list.setAttribute('role', 'list');
  list.append(...paper.asked.map((one) => questionOf(/** @type {Keyed} */ (one), isKey)));
  return [head(paper, isKey), list, foot(paper)];
}

/** @param {Paper} paper @param {boolean} isKey */
function head(paper, isKey) {
  const unsafe = paper.no_unsafe ? ' and no unsafe choice' : '';
  const blank = () => make('span', { is: 'hb-papers__blank' });
  const title = isKey ? `${paper.title}: answers` : paper.title;
  const lines = [
    make('h2', { text: title }),
    make('p', { text: `Seed ${paper.seed} · edition ${thisEdition()?.name ?? ''}` }),
    make('p', {
      text: `${paper.questions} questions, ${paper.of} marks. To pass: ${paper.needed} marks${unsafe}. If a time is kept: ${paper.minutes} minutes.`,
    }),
  ];
  if (!isKey) {
    lines.push(make('p', {}, ['Candidate ', blank(), ' Marks ', blank(), ' Unsafe ', blank()]));
  }
  return make('div', { is: 'hb-papers__head' }, lines);
}

/** @param {Paper} paper */
function foot(paper) {
  return make('div', { is: 'hb-papers__foot' }, [
    make('p', { text: addressOf({ paper: paper.id, seed: paper.seed }) }),
    make('p', { text: 'All figures are invented. Arithmetic, not a certificate.' }),
  ]);
}

/** @param {Keyed} one @param {boolean} isKey */
function questionOf(one, isKey) {
  const line = make('li', {}, [
    make('p', { text: one.stem }),
    make('span', {
      text: `${one.of} ${one.of === 1 ? 'mark' : 'marks'}`,
      is: 'hb-papers__worth',
    }),
  ]);
  if (one.drawing)
    line.append(make('figure', { is: 'hb-practice__drawing' }, [drawn(one.drawing)]));
  if (one.items.length > 0) line.append(boxes(one, isKey));
  else if (!isKey) line.append(...roomFor(one));
  if (isKey) line.append(...keyOf(one));
  return line;
}

/** @param {Keyed} one @param {boolean} isKey */
function boxes(one, isKey) {
  const isOrder = one.asks === 'order';
  const list = make('ul', { is: `hb-papers__boxes${isOrder ? ' hb-papers__boxes--order' : ''}` });
  const rights = isOrder ? [] : [one.answer ?? []].flat();
  for (const { text } of one.items) {
    const line = make('li', { text });
    if (isKey && rights.includes(text)) {
      line.dataset.right = '';
      line.prepend(make('b', { text: 'Right: ', is: 'hb-unseen' }));
    }
    list.append(line);
  }
  return isOrder ? make('div', {}, [make('p', { text: 'Number them.' }), list]) : list;
}

/** Lines to show the working on, and one for the answer. @param {Keyed} one */
function roomFor(one) {
  const lines = Array.from({ length: one.of > 1 ? one.of + 1 : 0 }, () =>
    make('div', { is: 'hb-papers__line' }),
  );
  // Which unit it has is part of a reading.
  const unit = one.asks === 'read' ? '' : (one.units?.[0]?.text ?? '');
  const blank = make('span', { is: 'hb-papers__blank' });
  return [...lines, make('p', {}, ['Answer ', blank, ` ${unit}`])];
}

/** @param {Keyed} one */
function keyOf(one) {
  const found = [];
  const isShown = one.asks !== 'order' && one.items.length > 0;
  if (one.asks === 'order') {
    const list = make('ol', { is: 'hb-list' });
    list.append(...[one.answer ?? []].flat().map((text) => make('li', { text })));
    found.push(make('p', {}, [make('b', { text: 'One right order' })]), list);
  } else if (!isShown) {
    found.push(make('p', {}, [make('b', { text: `Answer ${one.answer}` })]));
  }
  const lines = one.working ?? [];
  const marked = one.marked ?? [];
  for (const { name, label, symbols, numbers, result } of lines) {
    const mark = marked.length > 1 && marked.includes(name) ? ' [1]' : '';
    found.push(make('p', { text: `${label} = ${symbols} = ${numbers} = ${result}${mark}` }));
  }
  const why = lines.length > 0 || one.sum ? '' : one.because || one.why;
  for (const text of [one.sum, one.pairs, why && `Why: ${why}`])
    if (text) found.push(make('p', { text }));
  for (const text of one.unsafe ?? []) found.push(make('p', { text: `Unsafe: ${text}` }));
  return found;
}

/**
 * The tutor's sheet: a seed for each candidate, no names.
 *
 * @param {{seed: string, seeds: string[]}} given
 * @param {{id: string, title: string}} paper
 */
export function classSheet({ seed, seeds }, { id, title }) {
  const top = make('tr');
  for (const text of ['Candidate', 'Seed', 'Marks', 'Unsafe']) {
    const cell = make('th', { text });
    cell.scope = 'col';
    top.append(cell);
  }
  const body = make('tbody');
  seeds.forEach((each, place) => {
    const code = make('td', {}, [make('code', { text: each })]);
    const number = make('th', { text: String(place + 1) });
    number.scope = 'row';
    body.append(make('tr', {}, [number, code, make('td'), make('td')]));
  });
  const table = make('table', { is: 'hb-papers__class' }, [make('thead', {}, [top]), body]);
  return [
    make('div', { is: 'hb-papers__head' }, [
      make('h2', { text: `${title}: tutor's sheet` }),
      make('p', { text: `Your seed ${seed} · edition ${thisEdition()?.name ?? ''}` }),
      make('p', {
        text: 'Each candidate has a paper of their own. Keep names on a list of yours, and not here.',
      }),
      make('p', {
        text: 'Whoever knows a seed can print the answers. Hand out papers, or watch while they are sat.',
      }),
      make('p', { text: `Where each sits it: ${addressOf({ paper: id, seed: 'SEED' })}` }),
      make('p', {
        text: `Then each saves the answers and hands you the file. How the class did: ${resultsAddress({ paper: id, seed })}`,
      }),
    ]),
    table,
  ];
}
