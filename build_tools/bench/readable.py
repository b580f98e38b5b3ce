"""How soon a page can be read on a slow device, and how heavy pages are.

Both against the same words in the stock theme of MkDocs, opened by turns.
"""

import statistics
from pathlib import Path

from playwright.sync_api import Playwright

from build_tools.bench.browser import Browser, chromium
from build_tools.bench.measurement import Figure, ratio_by_turns, spread
from build_tools.bench.stock import Stock

SLOWDOWN = 4
HEAVIEST = 3  # pages that are opened
KILO = 1000
AFTER_LOAD_MS = 1500  # the runtime starts in this time: what it paints over would count

# The last candidate is the largest thing that was painted.
LARGEST_PAINT = """() => new Promise((resolve) => {
    new PerformanceObserver((list) => resolve(list.getEntries().at(-1).startTime))
        .observe({type: 'largest-contentful-paint', buffered: true});
})"""


def measure(
    browser: Browser, playwright: Playwright, site: Path, stock: Stock, repeats: int
) -> list[Figure]:
    """Largest contentful paint of the heaviest pages, with nothing in the browser's cache."""
    with chromium(stock.site, playwright) as plain:
        return [
            *(paint(browser, plain, page, repeats) for page in by_weight(site)[:HEAVIEST]),
            weight(site, stock.site),
        ]


def paint(browser: Browser, plain: Browser, page: str, repeats: int) -> Figure:
    """One page and its plain one, by turns."""
    turns = [(_once(browser, page), _once(plain, page)) for _ in range(repeats)]
    ours, beside = ([turn[at] for turn in turns] for at in (0, 1))
    return Figure(
        kind="paint",
        ratio=ratio_by_turns(ours, beside),
        told=f"{statistics.median(ours) / KILO:.2f} s",
        of=page,
        detail=(f"the page       {spread(ours)}", f"plain words    {spread(beside)}"),
        samples={"ours": ours, "plain": beside},
    )


def weight(site: Path, stock: Path) -> Figure:
    """The heaviest page: its HTML is all that it does not share with others."""
    sizes = {page: (site / page).stat().st_size / KILO for page in by_weight(site)[:HEAVIEST]}
    heaviest = next(iter(sizes))
    return Figure(
        kind="weight",
        ratio=sizes[heaviest] * KILO / (stock / heaviest).stat().st_size,
        told=f"{sizes[heaviest]:.0f} kB",
        of=heaviest,
        detail=tuple(f"{size:6.1f} kB  {page}" for page, size in sizes.items()),
    )


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
