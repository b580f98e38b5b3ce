/** The card that comes with the handbook. It says of itself that it is invented. */

import { numberAndUnit } from './card-lines.js';

/** @typedef {import('../visit/card-types.js').Card} Card */

/** @param {HTMLElement} root @returns {Card} */
export function inventedCard(root) {
  const { name, edition, day, lines } = JSON.parse(root.dataset.hbInvented ?? '{}');
  return {
    ...{ id: '', name, edition, at: `${day}T00:00:00Z`, invented: true },
    lines: lines.map(
      (/** @type {{id: string, text: string, page: string}} */ { id, text, page }) => ({
        ...{ field: id, page },
        ...numberAndUnit(root, id, text),
      }),
    ),
  };
}
