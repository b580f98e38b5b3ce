/** The form in which a card is written and changed. What is typed stays through a reload. */

import { find, setText } from '../lib/find.js';
import { readSession, writeSession } from '../lib/session-storage.js';
import { cardFields } from '../visit/card-fields.js';
import { putCards } from '../visit/card-store.js';
import { plainLine } from '../visit/plain-text.js';
import { whyNot } from '../visit/reading-check.js';
import { fieldText } from '../visit/reading-text.js';
import { storageErrorOf, storageErrorWords } from '../visit/storage-error.js';
import { newId } from '../visit/visit-name.js';
import { controlIn, numberAndUnit, unitIn } from './card-lines.js';

/** @typedef {import('../visit/card-types.js').Card} Card */
/** @typedef {import('../visit/card-types.js').CardLine} CardLine */

const DRAFT = 'hb:card-draft';

/** @param {ParentNode} root @param {string} selector */
const input = (root, selector) => /** @type {HTMLInputElement} */ (find(root, selector));

/** @param {ParentNode} root @returns {HTMLElement[]} */
const fields = (root) =>
  /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-hb-card-field]')]);

/** @type {Card | null} the one that is changed; nothing for a new one */ let changed = null;

/** @param {HTMLElement} root @returns {CardLine[]} what is typed; lines of another edition stay */
function typedLines(root) {
  const own = fields(root).flatMap((field) => {
    const id = field.dataset.hbCardField ?? '';
    const line = numberAndUnit(root, id, controlIn(field)?.value ?? '');
    const page = plainLine(input(field, '[data-hb-card-page]').value);
    return line.text ? [{ field: id, ...line, page }] : [];
  });
  const known = new Set(fields(root).map(({ dataset }) => dataset.hbCardField));
  return [...own, ...(changed?.lines ?? []).filter(({ field }) => !known.has(field))];
}

/** @param {HTMLElement} root @returns {Card} as the form has it */
const typedCard = (root) => ({
  id: changed?.id ?? '',
  name: plainLine(input(root, '[data-hb-card-name]').value),
  edition: plainLine(input(root, '[data-hb-card-edition]').value),
  at: new Date().toISOString(),
  invented: changed?.invented ?? false,
  lines: typedLines(root),
});

/** @param {HTMLElement} root @param {Card | null} card what the form shows from now on */
function fill(root, card) {
  changed = card?.id ? card : null;
  input(root, '[data-hb-card-name]').value = card?.name ?? '';
  input(root, '[data-hb-card-edition]').value = card?.edition ?? '';
  for (const field of fields(root)) {
    const line = card?.lines.find((each) => each.field === field.dataset.hbCardField);
    const control = controlIn(field);
    if (control)
      control.value = line ? fieldText({ value: line.text, unit: line.unit }, unitIn(field)) : '';
    input(field, '[data-hb-card-page]').value = line?.page ?? '';
    tell(field);
  }
  const title = find(root, '[data-hb-card-form-title]');
  setText(title, changed ? `Change “${changed.name}”` : 'Write a card');
}

/** @param {HTMLElement} root @param {Card} card */
export function changeCard(root, card) {
  fill(root, card);
  writeSession(DRAFT, card);
  find(root, '#write').scrollIntoView({ block: 'start' });
  input(root, '[data-hb-card-name]').focus({ preventScroll: true });
}

/** @param {HTMLElement} field says of a figure whether it can be used: it is kept as it was typed */
function tell(field) {
  const control = controlIn(field);
  const root = /** @type {HTMLElement | null} */ (field.closest('[data-hb-cards-page]'));
  if (!control || !root || !(control instanceof HTMLInputElement)) return;
  const id = field.dataset.hbCardField ?? '';
  const { text, unit } = numberAndUnit(root, id, control.value);
  const reading = cardFields().find((each) => each.id === id)?.reading;
  const why = text && reading ? whyNot({ name: reading, value: text, unit }) : '';
  const said = find(field, '[data-hb-card-said]');
  said.dataset.state = why ? 'error' : '';
  setText(said, why && `Not usable. ${why}`);
  if (why) control.setAttribute('aria-invalid', 'true');
  else control.removeAttribute('aria-invalid');
}

/** @param {HTMLElement} root @param {() => Promise<void>} done once a card is kept */
export function startCardForm(root, done) {
  const form = find(root, '[data-hb-card-form]');
  const said = find(root, '[data-hb-card-form-said]');
  const say = (/** @type {string} */ words, isWrong = false) => {
    said.dataset.state = isWrong ? 'error' : '';
    setText(said, words);
  };
  // What a quick hand has typed before this script came stays.
  const draft = /** @type {Card | null} */ (readSession(DRAFT));
  if (draft) fill(root, draft);
  else changed = null;
  form.addEventListener('input', ({ target }) => {
    say('');
    writeSession(DRAFT, typedCard(root));
    const field = target instanceof Element ? target.closest('[data-hb-card-field]') : null;
    if (field instanceof HTMLElement) tell(field);
  });
  find(form, '[data-hb-card-empty]').addEventListener('click', () => {
    writeSession(DRAFT, null);
    fill(root, null);
    say('');
  });
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    const card = typedCard(root);
    const lacks = lacking(card);
    if (lacks) return say(lacks, true);
    const own = { ...card, id: card.id || newId() };
    try {
      await putCards([own]);
    } catch (error) {
      return say(storageErrorWords(storageErrorOf(error)), true);
    }
    writeSession(DRAFT, null);
    fill(root, null);
    say(`“${own.name}” is kept.`);
    document.dispatchEvent(new CustomEvent('hb:card-kept', { detail: { id: own.id } }));
    return done();
  });
}

/** @param {Card} card @returns {string} what must be there before it is kept */
function lacking({ name, edition, lines }) {
  if (!name) return 'Not kept yet: give the card a name.';
  if (!edition) return 'Not kept yet: say which edition of the instructions it is from.';
  return lines.length ? '' : 'Not kept yet: type at least one line.';
}
