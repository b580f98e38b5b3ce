/** On paper nothing is folded: the record shows what it holds, the blank form every reading. */

const GROUPS = '[data-hb-record] details';

export function startRecordPrint() {
  /** @type {HTMLDetailsElement[]} */ let opened = [];
  addEventListener('beforeprint', () => {
    const folds = /** @type {HTMLDetailsElement[]} */ ([...document.querySelectorAll(GROUPS)]);
    opened = folds.filter((fold) => !fold.open);
    for (const fold of opened) fold.open = true;
  });
  addEventListener('afterprint', () => {
    for (const fold of opened) fold.open = false;
    document.querySelector('[data-hb-record]')?.removeAttribute('data-hb-blank');
    opened = [];
  });
}

/** @param {HTMLElement} root prints the form without what is kept */
export function printBlank(root) {
  root.dataset.hbBlank = '';
  print();
}
