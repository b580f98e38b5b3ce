/** Files that somebody chose or dropped, also whole folders: read here, and nowhere else. */

/** @typedef {{name: string, size: number, text: string}} Chosen */

/** The engine refuses what is larger, and says so: no more than it needs for that is read. */
const READ_AT_MOST = 2_000_001;
/** One more than the engine takes, so that it can tell of it. */
const MOST_FILES = 301;

/** @param {Iterable<File>} files @returns {Promise<Chosen[]>} */
export const textsOf = (files) => Promise.all([...files].slice(0, MOST_FILES).map(textOf));

/** @param {File} file @returns {Promise<Chosen>} */
async function textOf(file) {
  const { name, size } = file;
  try {
    return { name, size, text: await file.slice(0, READ_AT_MOST).text() };
  } catch {
    return { name, size, text: '' }; // moved or deleted since it was chosen
  }
}

/**
 * What was dropped. A browser forgets it as soon as the event is over, so all is asked for at once.
 *
 * @param {DataTransfer} dropped
 * @returns {Promise<File[]>}
 */
export async function filesIn(dropped) {
  const entries = [...dropped.items].map((item) => item.webkitGetAsEntry?.());
  if (!entries.some((entry) => entry?.isDirectory)) return [...dropped.files];
  /** @type {File[]} */ const found = [];
  for (const entry of entries) if (entry) await walk(entry, found);
  return found;
}

/** @param {FileSystemEntry} entry @param {File[]} found */
async function walk(entry, found) {
  if (found.length >= MOST_FILES) return;
  if (entry.isFile) {
    const { file } = /** @type {FileSystemFileEntry} */ (entry);
    found.push(await new Promise((done, failed) => file.call(entry, done, failed)));
    return;
  }
  const reader = /** @type {FileSystemDirectoryEntry} */ (entry).createReader();
  /** @type {FileSystemEntry[]} */ let some;
  do {
    some = await new Promise((done, failed) => reader.readEntries(done, failed));
    for (const each of some) if (!each.name.startsWith('.')) await walk(each, found);
  } while (some.length > 0);
}
