"""How soon a long visit opens, against an empty one opened by turns with it in the same browser."""

import statistics
from collections.abc import Iterator

from playwright.sync_api import Page

from build_tools.bench import invented_visit
from build_tools.bench.browser import Browser
from build_tools.bench.measurement import Figure, ratio_by_turns, spread

READINGS, APPLIANCES = 200, 3
LONG, EMPTY = "A long visit", "An empty visit"
TURNS = 8
WARM_UP = 1
REST_MS = 400

# From the touch to the next picture in which the page has what the visit holds.
OPENED = """(button) => new Promise((resolve) => {
    const began = performance.now();
    document.addEventListener('hb:visit', () => requestAnimationFrame(() => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = () => resolve(performance.now() - began);
        port2.postMessage(null);
    }), {once: true});
    button.click();
})"""


def measure(browser: Browser) -> Iterator[Figure]:
    """Opened by a touch in the record."""
    counts = {LONG: (APPLIANCES, READINGS), EMPTY: (1, 0)}
    visits = [invented_visit.visit(name, *count) for name, count in counts.items()]
    page = invented_visit.bring(browser, *visits)
    invented_visit.open_one(page, LONG)
    invented_visit.to_open(page, EMPTY).click()
    turns = [{name: _touched(page, name) for name in counts} for _ in range(WARM_UP + TURNS)]
    page.close()
    long, empty = ([turn[name] for turn in turns[WARM_UP:]] for name in counts)
    yield Figure(
        kind="visit",
        ratio=ratio_by_turns(long, empty),
        told=f"{statistics.median(long):.0f} ms",
        detail=(f"long           {spread(long)}", f"empty          {spread(empty)}"),
        samples={"long": long, "empty": empty},
    )


def _touched(page: Page, name: str) -> float:
    page.wait_for_timeout(REST_MS)
    return float(invented_visit.to_open(page, name).evaluate(OPENED))
