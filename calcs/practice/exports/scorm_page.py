"""The page of a SCORM package: it shows the questions, marks them, and tells the platform.

It needs nothing but its own files. Its policy lets it ask no other host, and it finds the
platform's API in the windows around it, as SCORM 1.2, run-time environment, section 3.3.3 says.
"""

STYLE = """\
body { font: 1.1rem/1.4 system-ui, sans-serif; margin: 1rem auto; max-width: 40rem; }
body { padding: 0 1rem; }
fieldset { border: 0; border-top: 1px solid #75818a; margin: 1rem 0; padding: .5rem 0; }
legend { font-weight: 700; }
label { display: block; min-height: 2.7rem; padding: .4rem 0; }
input[type=text] { font: inherit; font-weight: 700; min-height: 2.7rem; width: 10rem; }
button { font: inherit; min-height: 3rem; padding: 0 1.5rem; }
.told { border: 2px solid; padding: .4rem .7rem; }
img { display: block; max-width: 24rem; }
[hidden] { display: none; }
"""

SCRIPT = """\
'use strict';
const paper = JSON.parse(document.getElementById('paper').textContent);

/** The platform's API stands in a window around this one, or around the one that opened it. */
function findApi(from) {
  let place = from;
  for (let tries = 0; place && tries < 8; tries += 1) {
    try {
      if (place.API) return place.API;
    } catch {
      return null; // a window of another site: there is none of ours above it
    }
    if (place.parent === place) break;
    place = place.parent;
  }
  return null;
}
const api = findApi(window) || (window.opener ? findApi(window.opener) : null);
const began = Date.now();
let isOver = false;

function set(name, value) {
  if (api) api.LMSSetValue(name, String(value));
}

function finish() {
  if (isOver || !api) return;
  isOver = true;
  const seconds = Math.round((Date.now() - began) / 1000);
  const two = (number) => String(number).padStart(2, '0');
  const hours = Math.min(9999, Math.floor(seconds / 3600));
  const clock = [Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(':');
  const time = `${String(hours).padStart(4, '0')}:${clock}`;
  set('cmi.core.session_time', time);
  api.LMSCommit('');
  api.LMSFinish('');
}

function make(tag, text, more = {}) {
  const made = Object.assign(document.createElement(tag), more);
  if (text) made.textContent = text;
  return made;
}

function number(text) {
  const found = text.trim().replace(',', '.').replace('\\u2212', '-');
  return /^[+-]?(\\d+\\.?\\d*|\\.\\d+)$/.test(found) ? Number(found) : NaN;
}

const near = (value, { value: other, tolerance }) =>
  Math.abs(value - Number(other)) <= Number(tolerance);

/** Marks of one answer, and what is said to it. */
function marked(item, box) {
  if (item.choices.length === 0) {
    const given = number(box.querySelector('input').value);
    if (near(given, item)) return { marks: item.marks, words: [] };
    const slip = item.slips.find((each) => near(given, each));
    return slip ? { marks: slip.marks, words: [slip.feedback] } : { marks: 0, words: [] };
  }
  const inputs = [...box.querySelectorAll('input')];
  const wrong = item.choices.filter((choice, place) => choice.right !== inputs[place].checked);
  const taken = item.choices.filter(
    (choice, place) => inputs[place].checked && !choice.right && choice.feedback,
  );
  const words = taken.map(({ text, feedback }) => `${text} ${feedback}`);
  return { marks: wrong.length === 0 ? item.marks : 0, words };
}

function show(item, place) {
  const box = make('fieldset');
  box.append(make('legend', `${place + 1}. ${item.stem} [${item.marks}]`));
  if (item.picture) {
    box.append(make('img', '', { src: item.picture, alt: item.picture_words }));
  }
  if (item.choices.length === 0) {
    const input = make('input', '', { type: 'text', inputMode: 'decimal', autocomplete: 'off' });
    const label = make('label', 'Answer ');
    label.append(input, item.unit ? ` ${item.unit}` : '');
    box.append(label);
  }
  for (const { text } of item.choices) {
    const input = make('input', '', {
      type: item.several ? 'checkbox' : 'radio',
      name: item.id,
    });
    const label = make('label');
    label.append(input, ` ${text}`);
    box.append(label);
  }
  return box;
}

const form = document.querySelector('form');
const boxes = paper.items.map(show);
form.prepend(...boxes);
form.addEventListener('submit', (event) => {
  event.preventDefault();
  if (isOver) return;
  let marks = 0;
  paper.items.forEach((item, place) => {
    const told = marked(item, boxes[place]);
    marks += told.marks;
    const said = make('div', '', { className: 'told' });
    said.append(make('p', `${told.marks} of ${item.marks}`));
    said.append(...[...told.words, ...item.feedback].map((line) => make('p', line)));
    boxes[place].append(said);
    boxes[place].disabled = true;
  });
  const total = document.getElementById('total');
  total.hidden = false;
  total.textContent = `${marks} of ${paper.of} marks. Pass mark: ${paper.needed}.`;
  document.querySelector('button').hidden = true;
  set('cmi.core.score.min', 0);
  set('cmi.core.score.max', 100);
  set('cmi.core.score.raw', Math.floor((100 * marks) / paper.of));
  set('cmi.core.lesson_status', marks >= paper.needed ? 'passed' : 'failed');
  finish();
  total.focus();
});
if (api) api.LMSInitialize('');
window.addEventListener('pagehide', finish);
"""
