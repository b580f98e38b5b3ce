/** The sheets that pages of one kind have besides: a move brings them along and leaves them behind. */
const SHEETS = 'link[data-hb-kind-sheet]';
const FOR_PAPER = 'link[rel="stylesheet"][media="print"]'; // the last, so that it wins on paper

/**
 * Puts in the sheets of a page, and waits for them: it is not shown without its look.
 *
 * @param {Document} page
 * @param {URL} url where it stands
 * @returns {Promise<boolean>} whether all came
 */
export async function bringSheets(page, url) {
  const here = names(document);
  const wanted = links(page).filter((link) => !here.includes(name(link)));
  const came = await Promise.all(wanted.map((link) => loaded(new URL(address(link), url))));
  return came.every(Boolean);
}

/** @param {Document} page whose sheets stay: others may say how a sheet of paper lies */
export function dropSheets(page) {
  const wanted = names(page);
  for (const link of links(document)) if (!wanted.includes(name(link))) link.remove();
}

/** @param {Document} page @returns {Element[]} */
const links = (page) => [...page.querySelectorAll(SHEETS)];

/** @param {Element} link @returns {string} */
const address = (link) => link.getAttribute('href') ?? '';

/** @param {Element} link @returns {string} which is the same from whatever page it is written */
const name = (link) => address(link).split('/').at(-1) ?? '';

/** @param {Document} page @returns {string[]} */
const names = (page) => links(page).map(name);

/** @param {URL} sheet @returns {Promise<boolean>} */
function loaded(sheet) {
  const link = document.createElement('link');
  link.rel = 'stylesheet';
  link.href = sheet.href;
  link.dataset.hbKindSheet = '';
  return new Promise((done) => {
    link.addEventListener('load', () => done(true));
    link.addEventListener('error', () => {
      link.remove();
      done(false);
    });
    const paper = document.querySelector(FOR_PAPER);
    if (paper) paper.before(link);
    else document.head.append(link);
  });
}
