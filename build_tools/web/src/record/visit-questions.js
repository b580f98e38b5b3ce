/** The form that asks which checks apply has the answers of the open visit, and gives it its own. */

import { readLocal, writeLocal } from '../lib/local-storage.js';
import { openVisit } from '../visit/open-visit.js';
import { answersNow, keepAnswers } from '../visit/visit-answers.js';

/** @typedef {import('../lib/which-checks.js').Answers} Answers */
/** @typedef {import('../site/checks-element.js').ChecksElement} Checks */

/** What was answered before a visit was open, for the one that opens next. */
const BEFORE = 'hb:answers';

const forms = () => /** @type {Checks[]} */ ([...document.querySelectorAll('hb-checks')]);

let keeping = 0; // what is being kept is newer than what the visit still holds

/** @param {Answers} answers */
function keep(answers) {
  keeping += 1;
  void keepAnswers(answers)
    .catch(() => {})
    .finally(() => {
      keeping -= 1;
    });
}

/** @returns {Answers} */
function answeredBefore() {
  try {
    const kept = JSON.parse(readLocal(BEFORE) ?? '{}');
    const texts = Object.entries(kept ?? {}).filter(([, value]) => typeof value === 'string');
    return Object.fromEntries(texts);
  } catch {
    return {};
  }
}

export function showVisitAnswers() {
  if (!openVisit.isRead || !openVisit.visit || keeping) return;
  const before = answeredBefore();
  if (Object.keys(before).length) {
    writeLocal(BEFORE, null);
    if (!Object.keys(answersNow()).length) keep(before);
    return;
  }
  for (const form of forms()) form.answers = answersNow();
}

export function startVisitAnswers() {
  document.addEventListener('hb:answers', ({ target }) => {
    const { answers } = /** @type {Checks} */ (target);
    if (openVisit.visit) keep(answers);
    else writeLocal(BEFORE, JSON.stringify(answers));
  });
}
