/** Where this script lies: assets/handbook/ of the site. It can only be asked while it loads. */
const scriptUrl = /** @type {HTMLScriptElement | null} */ (document.currentScript)?.src ?? '';

/** The root of the site: addresses that are kept are written from there. */
export const siteUrl = () => new URL('../../', scriptUrl || location.href);

/**
 * The address of a part of the page that is shown, from the root of the site.
 *
 * @param {string} id
 */
export function addressHere(id) {
  const here = location.href.replace(/[?#].*$/, '');
  const root = siteUrl().href;
  return `${here.startsWith(root) ? here.slice(root.length) || 'index.html' : here}#${id}`;
}
