/**
 * Part of every page that `serve` shows: loads the page anew after a build, and shows what
 * is wrong. The calculators keep what was typed through a reload by themselves.
 */
(() => {
  const LOOK_EVERY_MS = 300;
  const shown = document.currentScript.dataset.version;

  function show(problems) {
    let panel = document.querySelector('[data-hb-problems]');
    if (problems && !panel) {
      panel = document.createElement('section');
      panel.className = 'hb-problems';
      panel.dataset.hbProblems = '';
      panel.setAttribute('role', 'alert');
      panel.append(document.createElement('h2'), document.createElement('pre'));
      panel.firstChild.textContent = 'To put right';
      document.body.append(panel);
    }
    if (!problems) panel?.remove();
    else if (panel.lastChild.textContent !== problems) panel.lastChild.textContent = problems;
  }

  async function look() {
    try {
      const response = await fetch('/-serve/state.json', { cache: 'no-store' });
      const { version, problems } = await response.json();
      // There is no version for the moment in which one site takes the other's place.
      if (version && version !== shown) {
        location.reload();
        return;
      }
      show(problems);
    } catch {
      // `serve` was stopped. It may come back.
    }
    setTimeout(look, LOOK_EVERY_MS);
  }

  look();
})();
