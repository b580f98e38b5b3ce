/** The reader's own instruments that took readings of the visit, on the screen and on paper. */

import { cautionSign } from '../lib/caution-sign.js';
import { find } from '../lib/find.js';
import { writtenDay } from '../lib/written-day.js';
import { openVisit } from '../visit/open-visit.js';

/** @param {HTMLElement} root */
export function showInstrumentsUsed(root) {
  const used = openVisit.allEntries.flatMap((each) => (each.kind === 'instrument' ? [each] : []));
  find(root, '[data-hb-visit-instruments]').hidden = used.length === 0;
  find(root, '[data-hb-visit-instruments-list]').replaceChildren(
    ...used.map((each) => {
      const line = document.createElement('li');
      const serial = each.serial && `serial number ${each.serial}`;
      const words = [each.name, serial, `step ${each.resolution}`, `± ${each.accuracy}`];
      line.append(`${words.filter(Boolean).join(', ')}. `, ...calibration(each));
      return line;
    }),
  );
}

/**
 * Past is what was past on the day of the reading.
 *
 * @param {{calibrated_until: string, at: string}} instrument
 * @returns {(Node | string)[]}
 */
function calibration({ calibrated_until: until, at }) {
  if (!until) return ['No day of calibration was typed.'];
  if (until >= at.slice(0, 10)) return [`Calibrated until ${writtenDay(until)}.`];
  const past = document.createElement('b');
  past.append(cautionSign(), ` Calibration past since ${writtenDay(until)}.`);
  return [past];
}
