"""How soon a page can be read on a slow device, and how heavy pages are."""

import statistics
from pathlib import Path

from build_tools.benchmark.browser import Browser
from build_tools.benchmark.figures import Figure, spread

ASKED_S = 1.5
ASKED_KB = 250.0
SLOWDOWN = 4
HEAVIEST = 3  # pages that are opened
KILO = 1000
AFTER_LOAD_MS = 1500  # the runtime starts in this time: what it paints over would count

# The last candidate is the largest thing that was painted.
LARGEST_PAINT = """() => new Promise((resolve) => {
    new PerformanceObserver((list) => resolve(list.getEntries().at(-1).startTime))
        .observe({type: 'largest-contentful-paint', buffered: true});
})"""


def measure(browser: Browser, site: Path, repeats: int) -> list[Figure]:
    """Largest contentful paint of the heaviest pages, with nothing in the browser's cache."""
    pages = by_weight(site)[:HEAVIEST]
    times = {page: [_once(browser, page) for _ in range(repeats)] for page in pages}
    slowest = max(times.values(), key=statistics.median)
    return [
        Figure(
            name=f"Largest contentful paint, {SLOWDOWN}x slower processor",
            value=statistics.median(slowest) / KILO,
            unit="s",
            asked=ASKED_S,
            detail=tuple(f"{spread(each)}  {page}" for page, each in times.items()),
            samples=times,
        ),
        weight(site),
    ]


def weight(site: Path) -> Figure:
    """The heaviest page: its HTML is all that it does not share with others."""
    sizes = {page: (site / page).stat().st_size / KILO for page in by_weight(site)[:HEAVIEST]}
    detail = tuple(f"{size:6.1f} kB  {page}" for page, size in sizes.items())
    return Figure("Heaviest page", max(sizes.values()), "kB", ASKED_KB, detail=detail)


def by_weight(site: Path) -> list[str]:
    """Every page, the heaviest first."""
    pages = sorted(site.rglob("*.html"), key=lambda page: (-page.stat().st_size, page.as_posix()))
    return [page.relative_to(site).as_posix() for page in pages]


def _once(browser: Browser, path: str) -> float:
    page = browser.context.new_page()
    tools = browser.context.new_cdp_session(page)
    tools.send("Network.enable")
    tools.send("Network.setCacheDisabled", {"cacheDisabled": True})
    tools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
    page.goto(browser.address + path, wait_until="load")
    page.wait_for_timeout(AFTER_LOAD_MS)
    took = page.evaluate(LARGEST_PAINT)
    page.close()
    return float(took)
