import { setText } from './find.js';

const WORDS =
  'Not kept: this browser has no room, or blocks storage. It holds until you leave this page.';

/**
 * Says beside a setting that it was not kept. It is said once, and no longer where a later choice
 * was kept.
 *
 * @param {Element} setting the label that holds the control
 * @param {boolean} isKept
 */
export function tellIfNotKept(setting, isKept) {
  const there = setting.parentElement?.querySelector(':scope > [data-hb-not-kept]');
  if (isKept) there?.remove();
  if (isKept || there) return;
  const line = document.createElement('p');
  line.className = 'hb-not-kept';
  line.dataset.hbNotKept = '';
  line.setAttribute('role', 'status');
  setting.after(line);
  setText(line, WORDS); // into a line that is there: else nothing reads it out
}
