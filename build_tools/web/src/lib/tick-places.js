/** Where ticks are written down at once, before the record keeps them. */

/** What every page shows when it is drawn: the ticks of the visit and of the appliance worked on. */
export const TICKS = 'hb:ticks';
/** Of which visit and appliance those are; nothing where they were made without a visit. */
export const TICKS_OF = 'hb:ticks-of';
/** What the record has still to keep, as visit/pending.js has it. */
export const TICKS_LEFT = 'hb:typed:ticks';
