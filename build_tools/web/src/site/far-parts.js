/** What a browser leaves out of a fresh page while it is far down: theme/assets/css/far.css. */
const FAR = '.hb-page__body > * + *, .hb-tasks > li';
const FRESH = 'hb-fresh';
const AT_ONCE = 4; // parts between two looks at what the reader does

const page = document.documentElement;

/**
 * Draws what is far down, part by part, once the page has nothing more urgent to do. From then on it
 * has its true length. A reader who follows a link does not wait for that: a jump lands where it
 * leads, and the place that Back returns to is counted on the page as it will be.
 */
export function startFarParts() {
  if (!page.classList.contains(FRESH)) return;
  document.addEventListener('hb:page', drawAll);
  addEventListener('hashchange', drawAll);
  document.addEventListener('click', follows, { capture: true });
  if (document.readyState === 'complete') drawRest();
  else addEventListener('load', drawRest);
}

/** @param {Event} event */
function follows({ target }) {
  if (target instanceof Element && target.closest('a[href]')) drawAll();
}

function drawAll() {
  page.classList.remove(FRESH);
  document.removeEventListener('hb:page', drawAll);
  removeEventListener('hashchange', drawAll);
  document.removeEventListener('click', follows, { capture: true });
}

function drawRest() {
  const parts = /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(FAR));
  const left = [...parts];
  const drawNext = () => {
    if (page.classList.contains(FRESH) && left.length) {
      for (const part of left.splice(0, AT_ONCE)) part.style.contentVisibility = 'visible';
      whenIdle(drawNext);
      return;
    }
    drawAll();
    for (const each of parts) each.style.contentVisibility = '';
  };
  whenIdle(drawNext);
}

/** @param {() => void} act WebKit has no idle callback */
function whenIdle(act) {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(act);
  else setTimeout(act, 20);
}
