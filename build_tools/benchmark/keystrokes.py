"""From a key pressed in a form to the answer, with the calculators running.

What is held to one frame is the time until the answer stands in the page, laid out, so that the
next frame shows it. A screen adds the wait for its own next frame, half a frame on average, to
whatever a page does; the time with that wait is shown beside it.
"""

from pathlib import Path

from playwright.sync_api import Page

from build_tools.benchmark.browser import Browser
from build_tools.benchmark.figures import Figure, percentile, spread

ASKED_MS = 16.0
ASKED_SLOW_MS = 50.0
SLOW = {"cross_check", "pipe_size"}  # they search or reconcile: the design allows them more
KEYS = 40
WARM_UP = 10
START_MS = 60_000

# The time runs from the browser's own stamp on the key's event.
WATCH = """() => {
    const root = document.querySelector('hb-calculator');
    window.took = {ready: [], painted: []};
    let pressed = null;
    root.addEventListener('input', (event) => { pressed = event.timeStamp; }, true);
    new MutationObserver(() => {
        if (pressed === null || !/answered|refused/.test(root.dataset.state)) return;
        const since = pressed;
        pressed = null;
        root.getBoundingClientRect(); // has the browser lay out what has changed
        window.took.ready.push(performance.now() - since);
        requestAnimationFrame(() => {
            const {port1, port2} = new MessageChannel();
            port1.onmessage = () => window.took.painted.push(performance.now() - since);
            port2.postMessage(null);
        });
    }).observe(root, {subtree: true, childList: true, characterData: true, attributes: true});
}"""
PAINTED = "count => window.took.painted.length > count"


def measure(browser: Browser, site: Path) -> list[Figure]:
    """The 95th percentile of each calculator that has a page."""
    stems = sorted(file.stem for file in (site / "calculators").glob("*.html"))
    return [_figure(browser, stem) for stem in stems if stem != "index"]


def _figure(browser: Browser, stem: str) -> Figure:
    page = browser.page(f"calculators/{stem}.html")
    took = _press_keys(page)
    page.close()
    return Figure(
        name=f"Key to answer, {stem}",
        value=percentile(took["ready"]),
        unit="ms",
        asked=ASKED_SLOW_MS if stem in SLOW else ASKED_MS,
        detail=tuple(f"{name:<8} {spread(times)}" for name, times in took.items()),
        samples=took,
    )


def _press_keys(page: Page) -> dict[str, list[float]]:
    """Fill in the example, then add a digit to a reading and take it away, over and over."""
    root = page.locator("hb-calculator").first
    root.locator("[data-hb-fill-example]").click()
    page.wait_for_selector("hb-calculator[data-state=answered]", timeout=START_MS)
    field = root.locator("input[inputmode=decimal]:visible, input[type=text]:visible").first
    field.press("End")
    page.evaluate(WATCH)
    for key in range(KEYS + WARM_UP):
        field.press("Backspace" if key % 2 else "1")
        page.wait_for_function(
            "count => window.took.painted.length > count", arg=key, timeout=START_MS
        )
    took: dict[str, list[float]] = page.evaluate("() => window.took")
    return {name: times[WARM_UP:] for name, times in took.items()}
