/** What a question is answered in: a number with its unit, choices, or steps to put in order. */

import { make } from './elements.js';

/**
 * @typedef {object} Question as the engine puts it
 * @property {string} id
 * @property {string} seed
 * @property {string} title
 * @property {string} topic
 * @property {string} asks
 * @property {string} safety
 * @property {string} stem
 * @property {string} why
 * @property {{id: string, text: string}[]} items
 * @property {{unit: string, text: string}[]} [units]
 * @property {import('./drawing.js').Drawing} [drawing]
 * @property {{answer: string | string[], because?: string, sum?: string, working: Line[]}} worked
 * @property {{page: string, title: string}[]} read
 */
/** @typedef {{name: string, label: string, symbols: string, numbers: string, result: string}} Line */
/** @typedef {{given: () => object | null, show: (told: any) => void, focus: () => void}} Field */

const PLACES = { number: numberField, read: numberField, order: orderField };

/** @param {HTMLElement} place @param {Question} question @returns {Field} */
export function makeField(place, question) {
  place.replaceChildren();
  const asks = /** @type {keyof typeof PLACES} */ (question.asks);
  return (PLACES[asks] ?? choiceField)(place, question);
}

/** @param {HTMLElement} place @param {Question} question @returns {Field} */
function numberField(place, question) {
  const field = make('div', { is: 'hb-practice__field' });
  const label = make('label', { text: 'Your answer', is: 'hb-field__label' });
  const input = make('input', { is: 'hb-field__input' });
  Object.assign(input, {
    type: 'text',
    inputMode: 'decimal',
    autocomplete: 'off',
    id: 'hb-answer',
  });
  label.htmlFor = input.id;
  const entry = make('span', { is: 'hb-field__entry' }, [input]);
  const units = unitsOf(question);
  if (units) entry.append(units);
  field.append(label, entry);
  place.append(field);
  return {
    given: () => {
      const text = input.value.trim();
      return text ? { text, unit: units instanceof HTMLSelectElement ? units.value : '' } : null;
    },
    show: () => {
      input.readOnly = true;
    },
    focus: () => input.focus({ preventScroll: true }),
  };
}

/** @param {Question} question @returns {HTMLElement | null} */
function unitsOf({ asks, units = [] }) {
  if (units.length === 0) return null;
  const isRead = asks === 'read'; // which unit it has is part of the reading
  if (units.length === 1 && !isRead)
    return make('span', { text: units[0]?.text ?? '', is: 'hb-field__unit' });
  const select = make('select', { is: 'hb-field__units' });
  select.ariaLabel = 'Unit';
  if (isRead) select.append(new Option('Unit?', ''));
  for (const { unit, text } of units) select.append(new Option(text, unit));
  return select;
}

/** @param {HTMLElement} place @param {Question} question @returns {Field} */
function choiceField(place, question) {
  const isMany = question.asks === 'choose_all';
  const field = make('fieldset', { is: 'hb-practice__field' });
  field.append(
    make('legend', { text: isMany ? 'Choose all that fit' : 'Choose one', is: 'hb-unseen' }),
  );
  const inputs = question.items.map((item, number) => {
    const input = make('input');
    Object.assign(input, {
      type: isMany ? 'checkbox' : 'radio',
      name: 'choice',
      value: item.id || String(number),
    });
    field.append(
      make('label', { is: 'hb-practice__choice' }, [input, make('span', { text: item.text })]),
    );
    return input;
  });
  place.append(field);
  const chosen = () => inputs.filter((each) => each.checked).map((each) => each.value);
  return {
    given: () => (chosen().length > 0 ? { chosen: chosen() } : null),
    show: (told) => markChoices(question, inputs, told),
    focus: () => {},
  };
}

/** @param {Question} question @param {HTMLInputElement[]} inputs @param {any} told */
function markChoices(question, inputs, told) {
  const rights = [told.answer].flat();
  inputs.forEach((input, number) => {
    const text = question.items[number]?.text ?? '';
    const label = input.closest('label');
    input.disabled = true;
    if (!label) return;
    if (rights.includes(text)) mark(label, 'right', 'Right');
    else if (input.checked) mark(label, 'wrong', 'Not this');
  });
}

/** @param {HTMLElement} label @param {'right' | 'wrong'} state @param {string} word */
function mark(label, state, word) {
  label.dataset.state = state;
  label.append(make('b', { text: word }));
}

/** @param {HTMLElement} place @param {Question} question @returns {Field} */
function orderField(place, question) {
  const list = make('ol', { is: 'hb-practice__order' });
  const said = make('p', { is: 'hb-unseen' });
  said.setAttribute('role', 'status');
  for (const item of question.items) {
    const line = make('li', {}, [make('span', { text: item.text })]);
    line.dataset.hbId = item.id;
    line.append(moves(list, line, said));
    list.append(line);
  }
  place.append(list, said);
  const ids = () =>
    [...list.children].map((line) => /** @type {HTMLElement} */ (line).dataset.hbId);
  return {
    given: () => ({ order: ids() }),
    show: (told) => {
      const broken = new Set(
        told.broken?.flatMap((/** @type {any} */ pair) => [pair.first, pair.then]),
      );
      for (const line of list.children) {
        const text = line.querySelector('span')?.textContent;
        if (broken.has(text)) /** @type {HTMLElement} */ (line).dataset.state = 'wrong';
        line.querySelector('.hb-practice__moves')?.remove();
      }
    },
    focus: () => {},
  };
}

/** @param {HTMLElement} list @param {HTMLElement} line @param {HTMLElement} said */
function moves(list, line, said) {
  const text = line.textContent ?? '';
  const button = (
    /** @type {string} */ sign,
    /** @type {string} */ word,
    /** @type {number} */ by,
  ) => {
    const made = make('button', { text: sign, is: 'hb-button' });
    made.type = 'button';
    made.ariaLabel = `${word}: ${text}`;
    made.addEventListener('click', () => {
      const lines = [...list.children];
      const to = lines.indexOf(line) + by;
      if (to < 0 || to >= lines.length) return;
      if (by < 0) lines[to]?.before(line);
      else lines[to]?.after(line);
      made.focus();
      said.textContent = `Now at place ${to + 1} of ${lines.length}.`;
    });
    return made;
  };
  return make('span', { is: 'hb-practice__moves' }, [
    button('↑', 'Up', -1),
    button('↓', 'Down', 1),
  ]);
}
