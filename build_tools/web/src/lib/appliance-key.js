/** Under which key something of an appliance is kept. */

export const FIRST = '1';
/** What all appliances of a visit share belongs to none. */
export const SHARED = '';

const PREFIX = /^([1-9]\d*)\//u;

/** @param {string} key as a visit of one appliance has it @param {string} appliance */
export const storedKey = (key, appliance) =>
  appliance === SHARED || appliance === FIRST ? key : `${appliance}/${key}`;

/** @param {string} key that something is kept under @returns {string} without its appliance */
export const plainKey = (key) => key.replace(PREFIX, '');

/** @param {string} key that something is kept under @returns {string | undefined} what it begins with */
export const applianceIn = (key) => PREFIX.exec(key)?.[1];
