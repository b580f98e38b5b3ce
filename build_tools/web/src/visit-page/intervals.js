/**
 * One line of a picture: a diamond is the reading, the bar how far it may be off. All lines of one
 * picture have one scale. The words beside it say all that it shows.
 */

const SVG = 'http://www.w3.org/2000/svg';
const [WIDTH, HEIGHT, MIDDLE] = [200, 20, 10];
const EDGE = 8; // the diamond stays whole at either end
const MARGIN = 0.08; // of what is shown, at either end
const [DIAMOND, END] = [5, 4];

/** @typedef {{value: number, expanded: number}} Row */
/** @typedef {(value: number) => number} Scale */

/** @param {Row[]} rows @returns {Scale} where a value stands, from the left */
export function scaleOf(rows) {
  const ends = rows.flatMap(({ value, expanded }) => [value - expanded, value + expanded]);
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const width = most - least || Math.abs(most) || 1;
  const [from, to] = [least - MARGIN * width, most + MARGIN * width];
  return (value) => EDGE + ((value - from) / (to - from)) * (WIDTH - 2 * EDGE);
}

/** @param {Row} row @param {Scale} at @returns {SVGElement} */
export function interval({ value, expanded }, at) {
  const [low, x, high] = [value - expanded, value, value + expanded].map((each) =>
    at(each).toFixed(1),
  );
  const drawn = element('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: 'hb-interval' });
  drawn.setAttribute('aria-hidden', 'true');
  drawn.setAttribute('preserveAspectRatio', 'xMinYMid');
  const end = `v${END}v-${2 * END}`;
  drawn.append(
    element('path', { class: 'hb-interval__axis', d: `M0 ${MIDDLE}H${WIDTH}` }),
    element('path', {
      class: 'hb-interval__bar',
      d: expanded ? `M${low} ${MIDDLE}${end}v${END}H${high}${end}` : '',
    }),
    element('path', {
      class: 'hb-interval__reading',
      d: `M${x} ${MIDDLE - DIAMOND}l${DIAMOND} ${DIAMOND}-${DIAMOND} ${DIAMOND}-${DIAMOND}-${DIAMOND}z`,
    }),
  );
  return drawn;
}

/** @param {string} name @param {Record<string, string>} facts @returns {SVGElement} */
function element(name, facts) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(facts)) made.setAttribute(key, value);
  return made;
}
