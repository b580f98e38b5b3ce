"""From a change in a form to the answer, with the calculators running.

What is held to one frame is the handbook's own part: from the change to the answer standing in the
page, laid out, so that the next frame shows it. A browser first draws the key that was pressed and
only then hears the reply, and a screen waits for its own next frame, so an answer is seen in the
frame after the one with the key. That whole time, from real keys, is shown beside it.
"""

import re
from pathlib import Path

from playwright.sync_api import Locator, Page

from build_tools.benchmark.browser import Browser
from build_tools.benchmark.figures import Figure, percentile, spread

ASKED_MS = 16.0
ASKED_SLOW_MS = 50.0
SLOW = {"cross_check", "pipe_size"}  # they search or reconcile: the design allows them more
TIMES = 40
WARM_UP = 10
REAL_KEYS = 12
START_MS = 60_000
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
BETWEEN_KEYS_MS = 37  # no whole number of frames, so that keys fall anywhere in one

# The times run from the browser's own stamp on the event. `window.heard` waits for one more.
WATCH = """(patience) => {
    const root = document.querySelector('hb-calculator');
    const took = window.took = {ready: [], painted: [], refused: 0};
    let changed = null;
    let told = () => {};
    root.addEventListener('input', (event) => { changed = event.timeStamp; }, true);
    new MutationObserver(() => {
        if (changed === null || !/answered|refused/.test(root.dataset.state)) return;
        if (root.dataset.state === 'refused') took.refused += 1;
        const since = changed;
        changed = null;
        root.getBoundingClientRect(); // has the browser lay out what has changed
        took.ready.push(performance.now() - since);
        requestAnimationFrame(() => {
            const {port1, port2} = new MessageChannel();
            port1.onmessage = () => { took.painted.push(performance.now() - since); told(); };
            port2.postMessage(null);
        });
    }).observe(root, {subtree: true, childList: true, characterData: true, attributes: true});
    window.heard = (count) => new Promise((resolve, reject) => {
        setTimeout(() => reject(new Error('No answer followed a change in the form.')), patience);
        told = () => { if (took.painted.length >= count) resolve(); };
        told();
    });
}"""

CHANGE = """async (field, [times, pause]) => {
    const first = field.value;
    for (let turn = 1; turn <= times; turn += 1) {
        field.value = turn % 2 ? `${first}1` : first;
        field.dispatchEvent(new Event('input', {bubbles: true}));
        await window.heard(turn);
        await new Promise((resolve) => setTimeout(resolve, pause));
    }
}"""


def measure(browser: Browser, site: Path) -> list[Figure]:
    """The 95th percentile of each calculator that has a page."""
    stems = sorted(file.stem for file in (site / "calculators").glob("*.html"))
    return [of_calculator(browser, stem) for stem in stems if stem != "index"]


def of_calculator(browser: Browser, stem: str) -> Figure:
    """Fill in the example of one calculator, then add a digit and take it away, over and over."""
    page = browser.page(f"calculators/{stem}.html")
    root = page.locator("hb-calculator").first
    root.locator("[data-hb-fill-example]").click()
    page.wait_for_selector("hb-calculator[data-state=answered]", timeout=START_MS)
    fields = root.locator("input[inputmode=decimal]:visible, input[type=text]:visible").all()
    numbers = [each for each in fields if NUMBER.fullmatch(each.input_value())]
    # A digit behind the point leaves a reading in its range: 122 s would become 1221 s, a refusal.
    # A figure that has a point already is a reading, and no count or size that must be whole.
    field = next((each for each in numbers if "." in each.input_value()), numbers[0])
    text = field.input_value()
    field.fill(text if "." in text else f"{text}.")
    page.evaluate(WATCH, START_MS)
    field.evaluate(CHANGE, [WARM_UP + TIMES, BETWEEN_KEYS_MS])
    ready: list[float] = page.evaluate("() => window.took.ready")[WARM_UP:]
    painted = _press_keys(page, field)
    refused: int = page.evaluate("() => window.took.refused")
    page.close()
    return Figure(
        name=f"Change to answer, {stem}",
        value=percentile(ready),
        unit="ms",
        asked=ASKED_SLOW_MS if stem in SLOW else ASKED_MS,
        detail=(
            f"answer in the page   {spread(ready)}",
            f"real key to painted  {spread(painted)}",
            *([f"refusals, not answers: {refused} of the changes"] if refused else []),
        ),
        samples={"ready": ready, "painted": painted},
    )


def _press_keys(page: Page, field: Locator) -> list[float]:
    """The same with real keys."""
    before: int = page.evaluate("() => window.took.painted.length")
    field.press("End")
    for key in range(REAL_KEYS):
        field.press("Backspace" if key % 2 else "1")
        page.evaluate("count => window.heard(count)", before + key + 1)
        page.wait_for_timeout(BETWEEN_KEYS_MS)
    painted: list[float] = page.evaluate("() => window.took.painted")
    return painted[before:]
