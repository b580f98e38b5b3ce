/**
 * The calculator that takes a reading: in the same step, else the nearest on the page. Looked up
 * each time, because a calculator may move to another step.
 *
 * @param {Element} from
 * @param {string} target what takes it, as `gas_rate.elapsed`
 */
export function takerOf(from, target) {
  const wanted = `hb-calculator[calculator="${target.split('.')[0]}"]`;
  for (let place = from.parentElement; place; place = place.parentElement) {
    const found = place.querySelector(wanted);
    if (found) return found;
  }
  return null;
}

/**
 * Puts a reading into the calculator that takes it, and shows it there.
 *
 * @param {Element} from
 * @param {string} target
 * @param {string} value
 * @param {string} unit
 * @returns {boolean} whether there is such a calculator
 */
export function giveReading(from, target, value, unit) {
  const taker = takerOf(from, target);
  if (!taker) return false;
  const fold = taker.closest('details');
  if (fold) fold.open = true;
  const detail = { name: target.split('.')[1], value, unit };
  taker.dispatchEvent(new CustomEvent('hb:reading', { bubbles: true, detail }));
  return true;
}

/**
 * Puts a reading into the field of its step that is still empty. What stands there stays.
 *
 * @param {Element} from
 * @param {string} target what takes it, as `gas_rate.elapsed`
 * @param {string} value
 * @param {string} unit
 */
export function fillReading(from, target, value, unit) {
  const step = from.closest('[data-hb-step]');
  if (!(step instanceof HTMLElement)) return;
  const name = JSON.parse(step.dataset.hbGives ?? '{}')[target.split('.')[1] ?? ''];
  fillField(step, name, value, unit);
}

/**
 * Puts a reading into its field, as if it were typed. What stands there stays.
 *
 * @param {ParentNode} root
 * @param {string} name of the reading
 * @param {string} value
 * @param {string} unit empty where it is the field's own
 * @returns {boolean} whether the field has it now
 */
export function fillField(root, name, value, unit) {
  const line = root.querySelector(`li[data-hb-live][data-hb-reading="${name}"]`);
  const field = line?.querySelector('input');
  if (!line || !field || field.value.trim()) return false;
  const own = line.querySelector('.hb-blank__unit')?.textContent?.trim();
  field.value = !unit || own === unit ? value : `${value} ${unit}`;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  return true;
}
