"""First live answer of a fresh worker: from the snapshot against the ordinary start.

Both start the same pinned runtime with the same calculators from the browser's cache, by turns in
one run. The time runs from the making of the worker until a frame has been drawn after its first
answer.
"""

from collections.abc import Callable, Mapping
from functools import partial

from build_tools.bench.browser import Browser
from build_tools.bench.measurement import Figure, ratio_by_turns, spread

WAYS = ("snapshot", "ordinary")
# Files and compiled code come into the browser's cache; Chromium keeps code after a second use.
WARM_UP = 3
REST_MS = 400
PAGE = "404.html"  # it holds no calculator, so no other worker runs

ASK = """async ([way, request]) => {
    const began = performance.now();
    const worker = new Worker(`assets/handbook/worker.js?start=${way}`);
    const reply = await new Promise((resolve, reject) => {
        worker.onerror = (event) => reject(new Error(event.message));
        worker.onmessage = ({data}) => {
            if (data.stopped) reject(new Error(data.stopped.message));
            if (data.id) resolve(data.result);
        };
        worker.postMessage({id: 1, action: 'run', request});
    });
    document.body.dataset.first = JSON.stringify(reply).length;
    await new Promise(requestAnimationFrame);
    await new Promise((resolve) => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = resolve;
        port2.postMessage(null);
    });
    const took = performance.now() - began;
    worker.terminate();
    return [took, Boolean(reply.answer)];
}"""

REQUEST = {
    "action": "run",
    "calculator": "gas_rate",
    "today": "2026-11-25",
    "inputs": {
        "method": {"value": "volume"},
        "volume": {"value": "0.088", "unit": "m**3"},
        "elapsed": {"value": "122", "unit": "s"},
    },
}


def measure(browser: Browser, repeats: int, warm_up: int = WARM_UP) -> list[Figure]:
    """How many times sooner the snapshot answers."""
    times = by_turns({way: partial(once, browser, way) for way in WAYS}, repeats, warm_up)
    return [
        Figure(
            kind="first",
            ratio=ratio_by_turns(times["ordinary"], times["snapshot"]),
            of=f"Chromium {browser.version}",
            detail=tuple(f"{way:<10}{spread(times[way])}" for way in WAYS),
            samples=times,
        )
    ]


def by_turns(
    ways: Mapping[str, Callable[[], float]], repeats: int, warm_up: int = WARM_UP
) -> dict[str, list[float]]:
    """What each way takes, the ways by turns in one run, with the first turns left out."""
    turns = [{way: take() for way, take in ways.items()} for _ in range(warm_up + repeats)]
    return {way: [turn[way] for turn in turns[warm_up:]] for way in ways}


def once(browser: Browser, way: str) -> float:
    """Milliseconds from a fresh worker to its first answer on the screen, in a tab of its own."""
    page = browser.page(PAGE)
    page.wait_for_timeout(REST_MS)
    took, answered = page.evaluate(ASK, [way, REQUEST])
    page.close()
    if not answered:
        message = "The calculator refused the readings that the benchmark asks with."
        raise RuntimeError(message)
    return float(took)
