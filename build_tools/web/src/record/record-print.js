/** On paper a visit stands on its own sides, and the blank form shows every reading unfolded. */

import { clearPrinted, layPrinted } from '../printed-record/printed-record.js';

const GROUPS = '[data-hb-record] details';

const page = () => /** @type {HTMLElement | null} */ (document.querySelector('[data-hb-record]'));

export function startRecordPrint() {
  /** @type {HTMLDetailsElement[]} */ let opened = [];
  addEventListener('beforeprint', () => {
    const root = page();
    if (!root) return;
    const folds = /** @type {HTMLDetailsElement[]} */ ([...document.querySelectorAll(GROUPS)]);
    opened = folds.filter((fold) => !fold.open);
    for (const fold of opened) fold.open = true;
    layPrinted(root);
  });
  addEventListener('afterprint', () => {
    for (const fold of opened) fold.open = false;
    const root = page();
    root?.removeAttribute('data-hb-blank');
    if (root) clearPrinted(root);
    opened = [];
  });
}

/** @param {HTMLElement} root prints the form without what is kept */
export function printBlank(root) {
  root.dataset.hbBlank = '';
  print();
}
