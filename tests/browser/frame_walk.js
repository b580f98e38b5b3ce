// A reader's way through the frame of a page, the same in every browser. It gives what went wrong.
async () => {
  const PATIENCE_MS = 15000;
  const wrong = [];
  const find = (selector) => document.querySelector(selector);
  const isShown = (element) => element?.checkVisibility({ visibilityProperty: true }) ?? false;
  const until = async (what, isIt) => {
    const latest = performance.now() + PATIENCE_MS;
    while (!isIt() && performance.now() < latest) await new Promise((go) => setTimeout(go, 30));
    if (!isIt()) wrong.push(what);
  };
  const press = (key) =>
    document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
  const ask = (words) => {
    field.focus();
    field.value = words;
    field.dispatchEvent(new Event('input', { bubbles: true }));
  };

  const menu = find('#hb-nav');
  const button = find('[data-hb-menu]');
  await until('the menu is shut at first', () => !isShown(menu) && isShown(button));
  button.click();
  await until('the menu opens', () => isShown(menu));
  const here = find('#hb-nav [aria-current]');
  await until('it opens at this page', () => here && document.activeElement === here);
  await until('what lies behind is out of reach', () => find('#hb-main').inert);
  press('Escape');
  await until('Escape shuts it', () => !isShown(menu) && !find('#hb-main').inert);
  await until('the focus goes back', () => document.activeElement === button);

  const field = find('#hb-query');
  const hits = () => [...document.querySelectorAll('.md-search-result__link')];
  await until('the field stands open', () => isShown(field));
  ask('gas rate');
  await until('pages are found', () => hits().some((each) => isShown(each)));
  await until('each says what it is', () => hits()[0]?.textContent.startsWith('Procedure'));
  ask('smell of gas');
  await until('to stop comes first', () => hits()[0]?.querySelector('.hb-found-stop svg') !== null);
  ask('xyzzyplugh');
  const said = find('.md-search-result__meta');
  await until('nothing found is said', () => said.textContent.startsWith('Nothing found'));
  press('Escape');
  await until('Escape shuts the search', () => !isShown(said));

  const list = find('[data-hb-display] select');
  list.value = '3';
  list.dispatchEvent(new Event('change', { bubbles: true }));
  await until('it turns dark', () => document.body.dataset.mdColorScheme === 'slate');
  await until('that is kept', () => Object.values({ ...localStorage }).some((v) => v.includes('slate')));
  return wrong;
};
