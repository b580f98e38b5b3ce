/**
 * A strip that shows where a reading lies: a hatched band is accepted, a diamond is the reading, a
 * whisker its doubt. The words beside it say all that it shows.
 */

/** @typedef {import('../protocol/bridge-types.js').OutcomeScale} OutcomeScale */

const SVG = 'http://www.w3.org/2000/svg';
const [WIDTH, HEIGHT, MIDDLE] = [240, 22, 11];
const EDGE = 8; // the diamond stays whole at either end
const MARGIN = 0.35; // of what is shown, beyond the reading and the limits
const DIAMOND = 6;

/**
 * @param {OutcomeScale} scale
 * @returns {SVGElement}
 */
export function strip({ reading, low, high, expanded }) {
  const ends = [reading - expanded, reading + expanded, low ?? reading, high ?? reading];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const width = most - least || Math.abs(reading) || 1;
  const [from, to] = [least - MARGIN * width, most + MARGIN * width];
  const at = (/** @type {number} */ value) =>
    EDGE + ((value - from) / (to - from)) * (WIDTH - 2 * EDGE);
  const drawn = element('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: 'hb-strip' });
  const [left, right] = [low === null ? 0 : at(low), high === null ? WIDTH : at(high)];
  const x = at(reading);
  drawn.append(
    element('path', { class: 'hb-strip__axis', d: `M0 ${MIDDLE}H${WIDTH}` }),
    element('rect', {
      ...{ class: 'hb-strip__accepted', x: left, y: 4, width: right - left, height: 14 },
    }),
    element('path', { class: 'hb-strip__hatch', d: hatch(left, right) }),
    element('path', {
      class: 'hb-strip__doubt',
      d: `M${at(reading - expanded)} ${MIDDLE}H${at(reading + expanded)}`,
    }),
    element('path', {
      class: 'hb-strip__reading',
      d: `M${x} ${MIDDLE - DIAMOND}l${DIAMOND} ${DIAMOND}-${DIAMOND} ${DIAMOND}-${DIAMOND}-${DIAMOND}z`,
    }),
  );
  return drawn;
}

/** @param {number} left @param {number} right */
function hatch(left, right) {
  const lines = [];
  for (let x = left + 3; x < right - 8; x += 7) lines.push(`M${x.toFixed(1)} 18l8-14`);
  return lines.join('');
}

/** @param {string} name @param {Record<string, string | number>} facts @returns {SVGElement} */
function element(name, facts) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(facts)) made.setAttribute(key, String(value));
  return made;
}
