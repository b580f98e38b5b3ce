"""From a change in a form to the answer, with the calculators running.

Two figures are held to one frame. The handbook's own part: from the change to the answer standing
in the page, laid out, so that the next frame shows it. And what a reader sees: how much later than
a key's own frame its answer is painted. The key's frame is measured beside it, in a field of the
same page that asks for nothing, by turns with the other: it waits for the screen as any key does,
up to a whole frame, and no page can be sooner.
"""

import re
import statistics
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Locator, Page

from build_tools.benchmark.browser import Browser
from build_tools.benchmark.figures import Figure, percentile, spread

ASKED_MS = 16.0
ASKED_SLOW_MS = 50.0
SLOW = {"cross_check", "pipe_size"}  # they search or reconcile: the design allows them more
TIMES = 40
WARM_UP = 10
REAL_KEYS = 24
START_MS = 60_000
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
BETWEEN_KEYS_MS = 37  # no whole number of frames, so that keys fall anywhere in one

# The times run from the browser's own stamp on the event. `window.heard` waits for one more.
WATCH = """(patience) => {
    const root = document.querySelector('hb-calculator');
    const took = window.took = {ready: [], painted: [], bare: [], refused: 0};
    let changed = null;
    let told = () => {};
    const painted = (since, times) => requestAnimationFrame(() => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = () => { times.push(performance.now() - since); told(); };
        port2.postMessage(null);
    });
    const bare = document.createElement('input');
    bare.id = 'bare';
    root.after(bare);
    bare.addEventListener('input', ({timeStamp}) => painted(timeStamp, took.bare));
    root.addEventListener('input', (event) => { changed = event.timeStamp; }, true);
    new MutationObserver(() => {
        if (changed === null || !/answered|refused/.test(root.dataset.state)) return;
        if (root.dataset.state === 'refused') took.refused += 1;
        const since = changed;
        changed = null;
        root.getBoundingClientRect(); // has the browser lay out what has changed
        took.ready.push(performance.now() - since);
        painted(since, took.painted);
    }).observe(root, {subtree: true, childList: true, characterData: true, attributes: true});
    window.heard = (count, times = 'painted') => new Promise((resolve, reject) => {
        setTimeout(() => reject(new Error('No answer followed a change in the form.')), patience);
        told = () => { if (took[times].length >= count) resolve(); };
        told();
    });
}"""

SETTLED = "() => /answered|refused/.test(document.querySelector('hb-calculator').dataset.state)"

CHANGE = """async (field, [times, pause]) => {
    const first = field.value;
    for (let turn = 1; turn <= times; turn += 1) {
        field.value = turn % 2 ? `${first}1` : first;
        field.dispatchEvent(new Event('input', {bubbles: true}));
        await window.heard(turn);
        await new Promise((resolve) => setTimeout(resolve, pause));
    }
}"""


def measure(browser: Browser, site: Path) -> Iterator[Figure]:
    """Both figures of each calculator that has a page."""
    for stem in sorted(file.stem for file in (site / "calculators").glob("*.html")):
        if stem != "index":
            yield from of_calculator(browser, stem)


def of_calculator(browser: Browser, stem: str) -> list[Figure]:
    """Fill in the example of one calculator, then add a digit and take it away, over and over."""
    page = browser.page(f"calculators/{stem}.html")
    root = page.locator("hb-calculator").first
    root.locator("[data-hb-fill-example]").click()
    page.wait_for_selector("hb-calculator[data-state=answered]", timeout=START_MS)
    field = _answered_field(page, root)
    page.evaluate(WATCH, START_MS)
    field.evaluate(CHANGE, [WARM_UP + TIMES, BETWEEN_KEYS_MS])
    ready: list[float] = page.evaluate("() => window.took.ready")[WARM_UP:]
    painted, bare = _press_keys(page, field)
    refused: int = page.evaluate("() => window.took.refused")
    page.close()
    asked = ASKED_SLOW_MS if stem in SLOW else ASKED_MS
    return [
        Figure(
            name=f"Change to answer, {stem}",
            value=percentile(ready),
            unit="ms",
            asked=asked,
            detail=(
                f"answer in the page   {spread(ready)}",
                *([f"refusals, not answers: {refused} of the changes"] if refused else []),
            ),
            samples={"ready": ready},
        ),
        Figure(
            name=f"Painted after its key, {stem}",
            value=statistics.median(painted) - statistics.median(bare),
            unit="ms",
            asked=asked,
            detail=(
                f"real key to answer painted      {spread(painted)}",
                f"real key alone, nothing asked   {spread(bare)}",
            ),
            samples={"painted": painted, "bare": bare},
        ),
    ]


def _answered_field(page: Page, root: Locator) -> Locator:
    """A field in which the figure is answered with one more digit as it is without, if one is."""
    fields = root.locator("input[inputmode=decimal]:visible, input[type=text]:visible").all()
    numbers = [each for each in fields if NUMBER.fullmatch(each.input_value())]
    # A digit behind the point leaves a reading in its range: 122 s would become 1221 s, a refusal.
    # A figure that has a point already is a reading, and no count or size that must be whole.
    for field in sorted(numbers, key=lambda each: "." not in each.input_value()):
        given = field.input_value()
        field.fill(given if "." in given else f"{given}.")
        field.press_sequentially("1")
        page.wait_for_function(SETTLED)
        if root.get_attribute("data-state") == "answered":
            field.press("Backspace")
            page.wait_for_function(SETTLED)
            return field
        field.fill(given)
    return numbers[0]


def _press_keys(page: Page, field: Locator) -> tuple[list[float], list[float]]:
    """Real keys in the calculator's field, by turns with keys in a field that asks for nothing."""
    before: int = page.evaluate("() => window.took.painted.length")
    for turn in range(REAL_KEYS):
        _press(page, field, turn)
        page.evaluate("count => window.heard(count)", before + turn + 1)
        page.wait_for_timeout(BETWEEN_KEYS_MS)
        _press(page, page.locator("#bare"), turn)
        page.evaluate("count => window.heard(count, 'bare')", turn + 1)
        page.wait_for_timeout(BETWEEN_KEYS_MS)
    took: dict[str, list[float]] = page.evaluate("() => window.took")
    return took["painted"][before:], took["bare"]


def _press(page: Page, field: Locator, turn: int) -> None:
    """One key: a digit at the end, or the same digit taken away again."""
    field.focus()
    page.keyboard.press("End")  # it changes nothing, and no key falls into the frame of a focus
    page.wait_for_timeout(BETWEEN_KEYS_MS)
    page.keyboard.press("Backspace" if turn % 2 else "1")
