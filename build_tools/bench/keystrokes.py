"""From a change in a form to the answer, with the calculators running.

Three figures of each calculator, each against something measured beside it:

- the sum: what the worker takes for the worked example, against CPython with the same request;
- the page's own part: from a change to the answer standing in the page, laid out, so that the next
  frame shows it, against what no page can do without: what the worker alone takes until the first
  part of its reply, and what the browser takes to lay out a figure that changed in that page;
- what a reader sees: from a real key to its answer painted, against a real key in a page without
  calculator, which waits for the screen as any key does, and those two after it.
"""

import json
import re
import statistics
import time
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page

from build_tools.bench.browser import Browser
from build_tools.bench.first_answer import PAGE
from build_tools.bench.measurement import Figure, percentile, spread
from build_tools.runtime import bundle, snapshot_cases
from calcs.bridge import Bridge

KILO = 1000

TIMES = 16
WARM_UP = 5
REAL_KEYS = 10
START_MS = 60_000
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
BETWEEN_KEYS_MS = 37  # no whole number of frames, so that keys fall anywhere in one
DAY = date(2026, 1, 1)
# Of the worked example of `cross_check`: its hot water and its gas, each timed by far too short.
OUT_OF_STEP = {"water_elapsed": "13", "elapsed": "70"}

# A page without calculator has a worker of its own to ask, and a field that asks for nothing.
BESIDE = """async () => {
    const worker = new Worker('assets/handbook/worker.js');
    let heard = () => {};
    worker.onmessage = ({data}) => heard(data);
    window.ask = (request, times) => new Promise((resolve, reject) => {
        const took = {first: [], whole: []};
        let began = 0;
        const next = () => {
            began = performance.now();
            worker.postMessage({id: 1, action: request.action, request, inParts: true});
        };
        heard = (data) => {
            if (data.stopped) reject(new Error(data.stopped.message));
            if (data.first) took.first.push(performance.now() - began);
            if (!data.result) return;
            took.whole.push(performance.now() - began);
            if (took.whole.length < times) next(); else resolve(took);
        };
        next();
    });
    const bare = document.createElement('input');
    bare.id = 'bare';
    document.body.prepend(bare);
    window.bare = [];
    let told = () => {};
    bare.addEventListener('input', ({timeStamp}) => requestAnimationFrame(() => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = () => { window.bare.push(performance.now() - timeStamp); told(); };
        port2.postMessage(null);
    }));
    window.heard = (count) => new Promise((resolve) => {
        told = () => { if (window.bare.length >= count) resolve(); };
        told();
    });
}"""

# The times run from the browser's own stamp on the event. `window.heard` waits for one more.
WATCH = """(patience) => {
    const root = document.querySelector('hb-calculator');
    const took = window.took = {ready: [], painted: [], refused: 0};
    let changed = null;
    let told = () => {};
    const painted = (since, times) => requestAnimationFrame(() => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = () => { times.push(performance.now() - since); told(); };
        port2.postMessage(null);
    });
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
    window.heard = (count) => new Promise((resolve, reject) => {
        setTimeout(() => reject(new Error('No answer followed a change in the form.')), patience);
        told = () => { if (took.painted.length >= count) resolve(); };
        told();
    });
}"""

# What a browser needs in any case: one figure of the answer changes, and the page is laid out.
LAY_OUT = """async (times) => {
    const result = document.querySelector('hb-calculator [data-hb-result]');
    const slots = [...result.querySelectorAll('[data-hb-item] [data-hb-slot]')];
    const figure = slots.find((slot) => /[0-9]/.test(slot.textContent) && slot.checkVisibility());
    const words = figure.textContent;
    const took = [];
    for (let turn = 1; turn <= times; turn += 1) {
        const began = performance.now();
        figure.firstChild.data = turn % 2 ? `${words}1` : words;
        result.getBoundingClientRect();
        took.push(performance.now() - began);
        await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 0)));
    }
    figure.firstChild.data = words;
    return took;
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
    """The figures of each calculator that has a page."""
    contents = bundle.make(DAY)
    bridge = Bridge(json.dumps(contents, ensure_ascii=False))
    requests = examples(contents)
    beside = browser.page(PAGE)
    beside.evaluate(BESIDE)
    for stem in sorted(file.stem for file in (site / "calculators").glob("*.html")):
        if stem != "index":
            sum_, first_ms = worked_out(bridge, beside, stem, requests[stem])
            yield sum_
            yield from of_calculator(browser, beside, stem, first_ms)
    yield worked_out(bridge, beside, "cross_check, nothing fits", misfit(requests))[0]
    yield worked_out(bridge, beside, "cross_check, at the end of a visit", of_visit(contents))[0]
    beside.close()


def of_visit(contents: Mapping[str, Any]) -> dict[str, Any]:
    """What the record asks when a reading of the invented visit changes: do they fit each other?"""
    requests = [json.loads(text) for text, _ in snapshot_cases.cases(contents, DAY)]
    return next(request for request in requests if request["action"] == "cross_check")


def misfit(requests: Mapping[str, dict[str, Any]]) -> dict[str, Any]:
    """The heaviest sum: readings that can't all be true, so that all that may be wrong is tried."""
    request = requests["cross_check"]
    wrong = {name: {"value": value, "unit": "s"} for name, value in OUT_OF_STEP.items()}
    return {**request, "inputs": {**request["inputs"], **wrong}}


def examples(contents: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """The worked example of each calculator as a request, though its empty form is answered too."""
    cases = snapshot_cases.cases(contents, DAY)
    answered = [json.loads(text) for text, reply in cases if "answer" in json.loads(reply)]
    return {request["calculator"]: request for request in answered if request["inputs"]}


def worked_out(
    bridge: Bridge, beside: Page, stem: str, request: dict[str, Any]
) -> tuple[Figure, float]:
    """The worker against CPython; and how long it takes for the first part of its reply."""
    text = json.dumps(request, ensure_ascii=False)
    python = [_seconds(partial(bridge.answer, text)) * KILO for _ in range(WARM_UP + TIMES)]
    took = beside.evaluate(
        "([request, times]) => window.ask(request, times)", [request, len(python)]
    )
    python, whole, first = (times[WARM_UP:] for times in (python, took["whole"], took["first"]))
    figure = Figure(
        kind="worked out",
        ratio=statistics.median(whole) / statistics.median(python),
        told=f"{percentile(whole):.1f} ms for 95 of 100",
        of=stem,
        detail=(f"worker      {spread(whole)}", f"CPython     {spread(python)}"),
        samples={"worker": whole, "first part": first, "python": python},
    )
    return figure, statistics.median(first)


def of_calculator(browser: Browser, beside: Page, stem: str, first_ms: float) -> list[Figure]:
    """Fill in the example of one calculator, then add a digit and take it away, over and over."""
    bare = _press_bare_keys(beside)
    page = browser.page(f"calculators/{stem}.html")
    root = page.locator("hb-calculator").first
    root.locator("[data-hb-fill-example]").click()
    page.wait_for_selector("hb-calculator[data-state=answered]", timeout=START_MS)
    field = _answered_field(page, root)
    page.evaluate(WATCH, START_MS)
    field.evaluate(CHANGE, [WARM_UP + TIMES, BETWEEN_KEYS_MS])
    ready: list[float] = page.evaluate("() => window.took.ready")[WARM_UP:]
    painted = _press_keys(page, field)
    laid_out: list[float] = page.evaluate(LAY_OUT, WARM_UP + TIMES)[WARM_UP:]
    refused: int = page.evaluate("() => window.took.refused")
    page.close()
    later = statistics.median(painted) - statistics.median(bare)
    least_ms = first_ms + statistics.median(laid_out)
    least = f"the worker alone {first_ms:.1f} ms, a figure laid out {spread(laid_out)}"
    return [
        Figure(
            kind="answered",
            ratio=statistics.median(ready) / least_ms,
            told=f"{percentile(ready):.1f} ms for 95 of 100",
            of=stem,
            detail=(
                f"answer in the page   {spread(ready)}; {least}",
                *([f"refusals, not answers: {refused} of the changes"] if refused else []),
            ),
            samples={"ready": ready, "laid out": laid_out},
        ),
        Figure(
            kind="painted",
            ratio=statistics.median(painted) / (statistics.median(bare) + least_ms),
            told=f"{later:.1f} ms after the key's own frame",
            of=stem,
            detail=(f"real key to answer painted {spread(painted)}", f"bare key {spread(bare)}"),
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


def _press_bare_keys(page: Page) -> list[float]:
    """Real keys in a field that asks for nothing, on a page without calculator."""
    page.bring_to_front()
    before: int = page.evaluate("() => window.bare.length")
    for turn in range(REAL_KEYS):
        _press(page, page.locator("#bare"), turn)
        page.evaluate("count => window.heard(count)", before + turn + 1)
        page.wait_for_timeout(BETWEEN_KEYS_MS)
    times: list[float] = page.evaluate("() => window.bare")
    return times[before:]


def _press_keys(page: Page, field: Locator) -> list[float]:
    """Real keys in the calculator's field."""
    before: int = page.evaluate("() => window.took.painted.length")
    for turn in range(REAL_KEYS):
        _press(page, field, turn)
        page.evaluate("count => window.heard(count)", before + turn + 1)
        page.wait_for_timeout(BETWEEN_KEYS_MS)
    times: list[float] = page.evaluate("() => window.took.painted")
    return times[before:]


def _press(page: Page, field: Locator, turn: int) -> None:
    """One key: a digit at the end, or the same digit taken away again."""
    field.focus()
    page.keyboard.press("End")  # it changes nothing, and no key falls into the frame of a focus
    page.wait_for_timeout(BETWEEN_KEYS_MS)
    page.keyboard.press("Backspace" if turn % 2 else "1")


def _seconds(ask: Callable[[], object]) -> float:
    began = time.perf_counter()
    ask()
    return time.perf_counter() - began
