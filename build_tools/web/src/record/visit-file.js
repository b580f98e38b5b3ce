/** Visits as a file: visit_record.schema.json says its form. */

import { thisEdition } from '../lib/edition.js';
import schema from '../visit/visit_record.schema.json' with { type: 'json' };
import { everything } from '../visit/visit-store.js';
import { wholeVisit } from '../visit/whole-visit.js';
import { labelIn, linesOf } from './visit-view.js';

/** @typedef {import('../visit/visit-types.js').Entry} Entry */
/** @typedef {import('../visit/visit-types.js').VisitFile} VisitFile */

/**
 * @param {string[] | null} ids nothing for every visit
 * @param {ParentNode} root the page, which knows this edition's label of each reading
 * @returns {Promise<VisitFile>}
 */
export async function fileOf(ids, root) {
  const { format, version } = schema.properties;
  const { visits, entries } = await everything();
  const lines = linesOf(root);
  const label = (/** @type {string} */ name) => labelIn(lines.get(name));
  const order = [...lines.keys()];
  const place = (/** @type {Entry} */ each) =>
    each.kind === 'reading' ? order.indexOf(each.name) : 0;
  entries.sort((one, other) => place(one) - place(other));
  return {
    format: format.const,
    version: version.const,
    edition: thisEdition()?.name ?? '',
    written: new Date().toISOString(),
    visits: visits
      .filter(({ id }) => !ids || ids.includes(id))
      .map((visit) =>
        wholeVisit(
          visit,
          entries.filter((each) => each.visit === visit.id),
          label,
        ),
      ),
  };
}

/**
 * @param {string} name of the visit
 * @param {string} ending
 */
export function fileName(name, ending) {
  const plain = name
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '');
  return `${(plain || 'visit').toLowerCase().slice(0, 60)}.${ending}`;
}
