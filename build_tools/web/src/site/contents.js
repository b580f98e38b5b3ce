/** From this width on there is room beside the page; contents.css has the same. */
const WIDE_WINDOW = '(min-width: 80rem)';

/** "On this page" stands open where it has a column of its own. */
export function openContents() {
  const contents = document.querySelector('[data-hb-contents]');
  if (contents instanceof HTMLDetailsElement && matchMedia(WIDE_WINDOW).matches)
    contents.open = true;
}
