import type { DBSchema } from 'idb';

import type { Card } from './card-types.js';
import type { Entry, Visit } from './visit-types.js';

export interface Schema extends DBSchema {
  visits: { key: string; value: Visit };
  cards: { key: string; value: Card };
  entries: { key: [string, string]; value: Entry; indexes: { visit: string } };
  /**
   * `open`: id of the visit that readings go into. `appliance:VISIT`: id of the appliance of that visit
   * that is worked on.
   */
  state: { key: string; value: string };
}
