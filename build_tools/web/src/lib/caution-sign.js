const SVG = 'http://www.w3.org/2000/svg';

/** @returns {SVGElement} the triangle of templates/warning_signs.html.jinja, beside words that say it */
export function cautionSign() {
  const sign = document.createElementNS(SVG, 'svg');
  sign.setAttribute('class', 'hb-sign');
  sign.setAttribute('aria-hidden', 'true');
  const use = document.createElementNS(SVG, 'use');
  use.setAttribute('href', '#hb-caution');
  sign.append(use);
  return sign;
}
