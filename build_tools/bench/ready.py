"""How soon a calculator is ready after its page was asked for, on a slow device and on a usual one.

Against the worker's own time: a fresh worker on a page that does nothing else. Neither finds
anything in the browser's cache, and they are taken by turns.
"""

import statistics
from collections.abc import Iterator

from playwright.sync_api import CDPSession, Page

from build_tools.bench.browser import Browser
from build_tools.bench.measurement import Figure, ratio_by_turns, spread

PAGES = ("calculators/gas_rate.html", "procedures/gas_rate.html")
EMPTY = "404.html"  # it loads no script of its own
SLOWDOWNS = (1, 4)
KILO = 1000
REST_MS = 400
READY = "hb-calculator[data-state=ready]"

WATCH = """new MutationObserver((changes) => {
    for (const {target} of changes)
        if (target.dataset.state === 'ready') window.hbReadyAt ??= performance.now();
}).observe(document, {subtree: true, attributeFilter: ['data-state']});"""

ALONE = """() => new Promise((resolve, reject) => {
    const began = performance.now();
    const worker = new Worker('assets/handbook/worker.js');
    worker.onerror = (event) => reject(new Error(event.message));
    worker.onmessage = ({data}) => {
        if (data.stopped) reject(new Error(data.stopped.message));
        if (data.stage !== 'ready') return;
        worker.terminate();
        resolve(performance.now() - began);
    };
})"""


def measure(browser: Browser, repeats: int) -> Iterator[Figure]:
    """Each page, as fast as the machine is and four times as slow."""
    for page in PAGES:
        for slowdown in SLOWDOWNS:
            yield ready(browser, page, slowdown, repeats)


def ready(browser: Browser, path: str, slowdown: int, repeats: int) -> Figure:
    """One page, by turns with a worker alone."""
    turns = [
        (_once(browser, path, slowdown), _alone(browser, slowdown)) for _ in range(repeats + 1)
    ][1:]
    ours, beside = ([turn[at] for turn in turns] for at in (0, 1))
    return Figure(
        kind="ready",
        ratio=ratio_by_turns(ours, beside),
        told=f"{statistics.median(ours) / KILO:.2f} s",
        of=f"{path} at {slowdown}×",
        detail=(f"on its page    {spread(ours)}", f"alone          {spread(beside)}"),
        samples={"ready": ours, "alone": beside},
    )


def _once(browser: Browser, path: str, slowdown: int) -> float:
    page, _ = _slow(browser, slowdown)
    page.add_init_script(WATCH)
    page.goto(browser.address + path)
    page.wait_for_selector(READY, state="attached")
    took = page.evaluate("window.hbReadyAt")
    page.close()
    return float(took)


def _alone(browser: Browser, slowdown: int) -> float:
    page, tools = _slow(browser, slowdown)
    page.goto(browser.address + EMPTY)
    page.wait_for_timeout(REST_MS)
    tools.send("Network.clearBrowserCache")
    took = page.evaluate(ALONE)
    page.close()
    return float(took)


def _slow(browser: Browser, slowdown: int) -> tuple[Page, CDPSession]:
    page = browser.context.new_page()
    tools = browser.context.new_cdp_session(page)
    tools.send("Network.clearBrowserCache")
    tools.send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
    return page, tools
