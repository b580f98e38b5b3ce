/** A copy of an instrument of the reader's own, as it was when it took a reading of the visit. */

/** @typedef {import('../protocol/bridge-types.js').OwnInstrument} OwnInstrument */
/** @typedef {import('./visit-types.js').Entry} Entry */

/** @param {{kind: string, name: string, serial: string}} instrument */
export const instrumentKey = ({ kind, name, serial }) => `instrument:${kind}:${serial || name}`;

/**
 * An entry has a kind of its own: that of the instrument is called `of` in it.
 *
 * @param {OwnInstrument} instrument
 * @param {string} at
 */
export function keptInstrument({ kind, name, serial, resolution, accuracy, ...rest }, at) {
  return {
    ...{ kind: /** @type {const} */ ('instrument'), of: kind, name, serial, resolution, accuracy },
    ...{ calibrated_until: rest.calibrated_until, at },
  };
}

/** @param {any} each of a file @returns {object} what is kept of it */
export const instrumentEntry = ({ kind, ...each }) => ({ ...each, kind: 'instrument', of: kind });

/** @param {Entry | undefined} kept @param {ReturnType<typeof keptInstrument>} now */
export const sameInstrument = (kept, now) =>
  kept?.kind === 'instrument' &&
  /** @type {const} */ ([
    'of',
    'name',
    'serial',
    'resolution',
    'accuracy',
    'calibrated_until',
  ]).every((key) => kept[key] === now[key]);

/** @param {Entry & {kind: 'instrument'}} entry @returns {OwnInstrument & {at: string}} for a file */
export const instrumentOf = ({ of, name, serial, resolution, accuracy, calibrated_until, at }) => ({
  ...{ kind: of, name, serial, resolution, accuracy, calibrated_until, at },
});
