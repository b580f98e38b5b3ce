/** Which appliances the open visit has, and which of them is worked on. */

import { LONGEST_APPLIANCE, nextId } from './appliances.js';
import { openVisit } from './open-visit.js';
import { plainLine } from './plain-text.js';
import { changeAppliances } from './visit-store.js';

/** @typedef {import('./visit-types.js').Appliance} Appliance */
/** @typedef {Parameters<typeof changeAppliances>[1]} Change */

/** @param {Change} change */
async function changed(change) {
  const { visit } = openVisit;
  if (visit) await openVisit.act(() => changeAppliances(visit.id, change));
}

/** @param {string} typed @returns {string} what of it can be a name; empty where nothing is seen */
export const applianceName = (typed) =>
  [...plainLine(typed)].slice(0, LONGEST_APPLIANCE).join('').trim();

/** @param {string} id readings go to it from now on, in every window */
export const chooseAppliance = (id) => changed((appliances) => ({ appliances, chosen: id }));

/** @param {string} name of one more, which is worked on from now on; nothing for "Appliance 2" */
export const addAppliance = (name) =>
  changed((all) => {
    const id = nextId(all);
    const own = { id, name: name || `Appliance ${id}`, at: new Date().toISOString() };
    return { appliances: [...all, own], chosen: id };
  });

/** @param {string} id @param {string} name */
export const renameAppliance = (id, name) =>
  changed((all) => ({
    appliances: all.map((each) => (each.id === id ? { ...each, name } : each)),
  }));

/** @param {string} id @param {import('./visit-types.js').CardUsed | null} card that it goes by */
export const changeCard = (id, card) =>
  changed((all) => ({
    appliances: all.map((each) => {
      if (each.id !== id) return each;
      const { card: _before, ...rest } = each;
      return card ? { ...rest, card } : rest;
    }),
  }));

/** @param {string} id with all that is its own. What all share stays, and so does the last one. */
export const removeAppliance = (id) =>
  changed((all) => {
    const left = all.filter((each) => each.id !== id);
    return { appliances: left.length ? left : all };
  });
