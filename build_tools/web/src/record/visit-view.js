/** What the open visit holds and lacks, by the places that the page has for it. */

import { fillList } from '../lib/fill-list.js';
import { find, setText } from '../lib/find.js';
import { byTime, writtenDay } from '../lib/written-day.js';
import { askedFor } from '../visit/asked-for.js';
import { answerKey } from '../visit/kept-answer.js';
import { withoutOldFit } from '../visit/kept-fit.js';
import { openVisit } from '../visit/open-visit.js';
import { wholeText } from '../visit/reading-text.js';
import { checksOf, isOfOthers } from '../visit/visit-checks.js';
import { momentWords } from '../visit/visit-name.js';

/** @typedef {import('../visit/visit-types.js').KeptAnswer} KeptAnswer */
/** @typedef {import('../visit/visit-types.js').KeptVerdict} KeptVerdict */

/**
 * As in templates/answer.html.jinja: where there is a limit, and where no number decides.
 *
 * @type {Record<string, [string, string]>}
 */
const OUTCOMES = {
  meets: ['Meets the limit', 'In order'],
  does_not_meet: ['Does not meet the limit', 'Not in order'],
  cannot_tell: ['Too close to tell', 'Cannot tell'],
  not_judged: ['Not judged', 'Not judged'],
};

/** @param {ParentNode} root @returns {Map<string, HTMLElement>} each reading's line by its name */
export function linesOf(root) {
  const lines = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('li[data-hb-reading]')]);
  return new Map(lines.map((line) => [line.dataset.hbReading ?? '', line]));
}

/** @param {HTMLElement | undefined} line */
export const labelIn = (line) => line?.querySelector('b')?.textContent ?? '';

/** @param {HTMLElement} root */
export function showGroups(root) {
  for (const found of root.querySelectorAll('[data-hb-readings-group]')) {
    const group = /** @type {HTMLDetailsElement} */ (found);
    const lines = [...linesOf(group)].filter(([, line]) => !line.hidden);
    const names = lines.map(([name]) => name);
    group.hidden = names.length === 0;
    const held = names.filter((name) => openVisit.usable(name)).length;
    setText(
      find(group, '[data-hb-group-count]'),
      openVisit.visit ? `${held} of ${names.length}` : '',
    );
    if (held && !group.hasAttribute('data-hb-has')) group.open = true;
    group.toggleAttribute('data-hb-has', held > 0);
  }
}

/** @param {HTMLElement} root */
export function showMissing(root) {
  const lines = linesOf(root);
  const isAsked = askedFor();
  const asked = /** @type {HTMLDataElement[]} */ ([...root.querySelectorAll('[data-hb-asked]')]);
  const items = asked.flatMap((each) => {
    const names = each.value.split(' ');
    const missing = names.filter((name) => isAsked(name) && !openVisit.usable(name));
    const link = each.dataset.hbAsked ?? '';
    const serves = checksOf(link);
    // A check that is marked lacks none, as on the page of the visit.
    const isClosed = serves.length > 0 && serves.every(({ marked }) => marked);
    const most = serves.length ? FEW : 1;
    const begun = names.some((name) => openVisit.reading(name) && isItsOwn(name, asked, most));
    if (!begun || !missing.length || isClosed || isOfOthers(link)) return [];
    const labels = missing.map((name) => labelIn(lines.get(name))).join('; ');
    return [{ title: each.textContent, labels, link }];
  });
  fillList(root, 'missing', items, {
    finish: (node, item) => find(node, 'a').setAttribute('href', String(item.link)),
  });
  find(root, '[data-hb-missing]').hidden = items.length === 0;
}

/**
 * A reading that many procedures ask for, such as the plate's, begins none of them. One that a check of
 * the visit asks for begins no page beside those, such as the search for a fault.
 */
const FEW = 2;

/** @param {string} name @param {HTMLDataElement[]} asked @param {number} most procedures that ask for it */
const isItsOwn = (name, asked, most) =>
  asked.filter((each) => each.value.split(' ').includes(name)).length <= most;

/** @param {HTMLElement} root readings of an older or a newer edition stay in sight */
export function showUnknown(root) {
  const lines = linesOf(root);
  const strange = openVisit.entries.flatMap((each) =>
    each.kind === 'reading' && !lines.has(each.name) ? [each] : [],
  );
  find(root, '[data-hb-unknown]').hidden = strange.length === 0;
  const list = find(root, '[data-hb-unknown-list]');
  list.replaceChildren(...strange.flatMap((each) => fact(each.label, wholeText(each))));
}

/** @param {HTMLElement} root */
export function showAnswers(root) {
  const answers = withoutOldFit(openVisit.entries).flatMap((each) =>
    each.kind === 'answer' ? [each] : [],
  );
  answers.sort((one, other) => byTime(one.at, other.at));
  find(root, '[data-hb-answers-none]').hidden = answers.length > 0;
  const items = answers.map(({ title, where, at, edition }) => ({
    title,
    about: [where, momentWords(at), edition && `edition ${edition}`].filter(Boolean).join(' · '),
  }));
  fillList(root, 'kept-answers', items, {
    finish(node, item) {
      const answer = answers[items.findIndex((each) => each === item)];
      if (answer) showAnswer(node, answer);
    },
  });
}

/** @param {HTMLElement} node @param {KeptAnswer} answer */
function showAnswer(node, answer) {
  const verdicts = answer.verdicts.map((verdict) => {
    const line = document.createElement('li');
    line.dataset.outcome = verdict.outcome;
    const [word, from] = [document.createElement('b'), document.createElement('span')];
    [word.textContent, from.textContent] = verdictWords(verdict);
    from.className = 'hb-small';
    line.append(word, ' ', from);
    return line;
  });
  find(node, '[data-hb-kept-verdicts]').replaceChildren(...verdicts);
  const figures = answer.answers.flatMap((each) =>
    fact(each.label, [each.text, each.uncertainty].filter(Boolean).join(' ')),
  );
  const inputs = answer.inputs.flatMap((each) => fact(each.label, each.text));
  find(node, '[data-hb-kept-facts]').replaceChildren(...figures, ...inputs);
  const out = /** @type {HTMLButtonElement} */ (find(node, '[data-hb-answer-out]'));
  out.setAttribute('aria-label', `Take it out: ${answer.title}`);
  out.onclick = () => {
    void openVisit.keep(() => [], [answerKey(answer)]).catch(() => {});
  };
}

/**
 * @param {KeptVerdict} verdict
 * @returns {[string, string]} what was found, and by which limit
 */
function verdictWords({ label, outcome, limit, source, edition, provenance, in_force: day }) {
  const [limited, unlimited] = OUTCOMES[outcome] ?? [outcome, outcome];
  const since = day && `in force from ${writtenDay(day)}`;
  const from = [limit, source, edition, provenance.replaceAll('-', ' '), since];
  return [`${label}: ${limit ? limited : unlimited}.`, from.filter(Boolean).join(', ')];
}

/** @param {string} label @param {string} text @returns {HTMLElement[]} */
function fact(label, text) {
  const [term, words] = [document.createElement('dt'), document.createElement('dd')];
  term.textContent = label;
  words.textContent = text;
  return [term, words];
}
