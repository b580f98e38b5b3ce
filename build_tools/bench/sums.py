"""What the worker takes for a sum, against CPython with the same request, by turns.

A worker that has just started runs what the browser compiled in a hurry, and its first dozens of
answers take several times as long, whatever is asked. That is the start's: other rows measure it.
So one worker is asked everything first, and no sum is timed cold because it happens to come first.

It is asked a few times at once and goes on from one to the next. With one at a time it would fall
asleep in between, and on a busy machine wait for a core before each; CPython would not. The turns
of one sum lie far apart, each between those of all others, and the quickest counts, as `timeit` of
the standard library advises: a sum takes what it takes, and what is more was taken by others.
"""

import json
import time
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from playwright.sync_api import Page

from build_tools.bench.browser import Browser
from build_tools.bench.first_answer import PAGE
from build_tools.bench.measurement import Figure, percentile, spread
from build_tools.runtime import bundle, snapshot_cases
from calcs.bridge import Bridge

Turn = tuple[list[float], list[float]]  # milliseconds of each in the worker, and in CPython
KILO = 1000
TURNS = 8
AT_ONCE = 4
WARM_UP = 3  # turns
DAY = date(2026, 1, 1)
# Of the worked example of `cross_check`: its hot water and its gas, each timed by far too short.
OUT_OF_STEP = {"water_elapsed": "13", "elapsed": "70"}

# A page without calculator, with a worker of its own to ask. Gives how long each reply took after
# the one before it.
WORKER = """() => {
    const worker = new Worker('assets/handbook/worker.js');
    window.ask = ([request, times]) => new Promise((resolve, reject) => {
        const took = [];
        let last = performance.now();
        worker.onmessage = ({data}) => {
            if (data.stopped) reject(new Error(data.stopped.message));
            if (!data.result) return;
            const now = performance.now();
            took.push(now - last);
            last = now;
            if (took.length === times) resolve(took);
        };
        for (let id = 1; id <= times; id += 1)
            worker.postMessage({id, action: request.action, request, inParts: true});
    });
}"""


def measure(browser: Browser) -> Iterator[Figure]:
    """Each calculator's worked example, and the heaviest sums."""
    contents = bundle.make(DAY)
    bridge = Bridge(json.dumps(contents, ensure_ascii=False))
    requests = examples(contents)
    requests["cross_check, nothing fits"] = misfit(requests)
    requests["cross_check, at the end of a visit"] = of_visit(contents)
    page = browser.page(PAGE)
    page.evaluate(WORKER)
    rounds = [
        {of: _turn(bridge, page, request) for of, request in requests.items()}
        for _ in range(WARM_UP + TURNS)
    ][WARM_UP:]
    page.close()
    for of in requests:
        yield worked_out(of, [each[of] for each in rounds])


def examples(contents: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """The worked example of each calculator as a request, though its empty form is answered too."""
    cases = snapshot_cases.cases(contents, DAY)
    answered = [json.loads(text) for text, reply in cases if "answer" in json.loads(reply)]
    return {request["calculator"]: request for request in answered if request["inputs"]}


def misfit(requests: Mapping[str, dict[str, Any]]) -> dict[str, Any]:
    """The heaviest sum: readings that can't all be true, so that all that may be wrong is tried."""
    request = requests["cross_check"]
    wrong = {name: {"value": value, "unit": "s"} for name, value in OUT_OF_STEP.items()}
    return {**request, "inputs": {**request["inputs"], **wrong}}


def of_visit(contents: Mapping[str, Any]) -> dict[str, Any]:
    """What the record asks when a reading of the invented visit changes: do they fit each other?"""
    requests = [json.loads(text) for text, _ in snapshot_cases.cases(contents, DAY)]
    return next(request for request in requests if request["action"] == "cross_check")


def worked_out(of: str, turns: list[Turn]) -> Figure:
    """One sum, asked of both by turns."""
    worker, python = ([sum(turn[at]) / AT_ONCE for turn in turns] for at in (0, 1))
    each = [took for turn in turns for took in turn[0]]
    return Figure(
        kind="worked out",
        ratio=min(worker) / min(python),
        told=f"{percentile(each):.1f} ms for 95 of 100",
        of=of,
        detail=(f"worker      {spread(worker)}", f"CPython     {spread(python)}"),
        samples={"worker": worker, "python": python},
    )


def _turn(bridge: Bridge, page: Page, request: dict[str, Any]) -> Turn:
    """A few at once."""
    text = json.dumps(request, ensure_ascii=False)
    worker: list[float] = page.evaluate("(asked) => window.ask(asked)", [request, AT_ONCE])
    return worker, [_here(bridge, text) for _ in range(AT_ONCE)]


def _here(bridge: Bridge, text: str) -> float:
    began = time.perf_counter()
    bridge.answer(text)
    return (time.perf_counter() - began) * KILO
