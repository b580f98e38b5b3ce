/**
 * The calculator with this id that is nearest to an element: in the same step, else on the page.
 *
 * @param {Element} from
 * @param {string} calculator
 */
export function nearestCalculator(from, calculator) {
  const wanted = `hb-calculator[calculator="${calculator}"]`;
  for (let place = from.parentElement; place; place = place.parentElement) {
    const found = place.querySelector(wanted);
    if (found) return found;
  }
  return null;
}
