"""From a change in a form to the answer, with the calculators running.

Two figures of each calculator, each against something measured beside it:

- the page's own part: from a change to the answer standing in the page, laid out, so that the next
  frame shows it, against what no page can do without: what the worker takes until the first part of
  its reply when it is asked the same by itself, and what the browser takes to lay out a figure that
  changed in that page. All by turns, and of one worker: one that has just started takes several
  times as long as one that has gone for a while, and that is no part of the page;
- what a reader sees: from a real key to its answer painted, against a real key in a page without
  calculator, which waits for the screen as any key does, and those two after it. It stands in a
  window of its own: both are in front, and the keys go to them by turns.
"""

import re
import statistics
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Locator, Page, Playwright

from build_tools.bench.browser import Browser, chromium
from build_tools.bench.first_answer import PAGE
from build_tools.bench.measurement import Figure, percentile, ratio_by_turns, spread

TIMES = 12
WARM_UP = 4
REAL_KEYS = 10
START_MS = 60_000
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
BETWEEN_KEYS_MS = 37  # no whole number of frames, so that keys fall anywhere in one

# A page without calculator has a field that asks for nothing.
BESIDE = """() => {
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
    const client = window.hbCalculatorClient;
    const run = client.run.bind(client);
    let asked = null;
    client.run = (request, ...more) => {
        asked = request;
        return run(request, ...more);
    };
    window.alone = async () => {
        const began = performance.now();
        let first = 0;
        await run(asked, () => { first = performance.now() - began; });
        return first || performance.now() - began; // a refusal has one part
    };
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
LAY_OUT = """() => {
    const result = document.querySelector('hb-calculator [data-hb-result]');
    window.laidOut = () => {
        const slots = [...result.querySelectorAll('[data-hb-item] [data-hb-slot]')];
        const isShown = (slot) => /[0-9]/.test(slot.textContent) && slot.checkVisibility();
        const figure = slots.find(isShown) ?? slots[0];
        const words = figure.textContent;
        const began = performance.now();
        figure.firstChild.data = `${words}1`;
        result.getBoundingClientRect();
        const took = performance.now() - began;
        figure.firstChild.data = words;
        result.getBoundingClientRect();
        return took;
    };
}"""

SETTLED = "() => /answered|refused/.test(document.querySelector('hb-calculator').dataset.state)"

CHANGE = """async (field, [times, pause]) => {
    const rest = () => new Promise((resolve) => setTimeout(resolve, pause));
    const first = field.value;
    const least = [];
    for (let turn = 1; turn <= times; turn += 1) {
        field.value = turn % 2 ? `${first}1` : first;
        field.dispatchEvent(new Event('input', {bubbles: true}));
        await window.heard(turn);
        await rest();
        least.push([await window.alone(), window.laidOut()]);
        await rest();
    }
    return least;
}"""


def measure(browser: Browser, playwright: Playwright, site: Path) -> Iterator[Figure]:
    """The figures of each calculator that has a page."""
    with chromium(site, playwright) as other:
        beside = other.page(PAGE)
        beside.evaluate(BESIDE)
        for stem in sorted(file.stem for file in (site / "calculators").glob("*.html")):
            if stem != "index":
                yield from of_calculator(browser, beside, stem)


def of_calculator(browser: Browser, beside: Page, stem: str) -> list[Figure]:
    """Fill in the example of one calculator, then add a digit and take it away, over and over."""
    page = browser.page(f"calculators/{stem}.html")
    root = page.locator("hb-calculator").first
    root.locator("[data-hb-fill-example]").click()
    page.wait_for_selector("hb-calculator[data-state=answered]", timeout=START_MS)
    field = _answered_field(page, root)
    page.evaluate(WATCH, START_MS)
    page.evaluate(LAY_OUT)
    turns = field.evaluate(CHANGE, [WARM_UP + TIMES, BETWEEN_KEYS_MS])[WARM_UP:]
    ready: list[float] = page.evaluate("() => window.took.ready")[WARM_UP:]
    painted, bare, after = _press_keys(page, field, beside)
    refused: int = page.evaluate("() => window.took.refused")
    page.close()
    later = statistics.median(painted) - statistics.median(bare)
    alone, laid_out = ([turn[at] for turn in turns] for at in (0, 1))
    least = [sum(turn) for turn in turns]
    return [
        Figure(
            kind="answered",
            ratio=ratio_by_turns(ready, least),
            told=f"{percentile(ready):.1f} ms for 95 of 100",
            of=stem,
            detail=(
                f"answer in the page   {spread(ready)}",
                f"asked by itself      {spread(alone)}; a figure laid out {spread(laid_out)}",
                *([f"refusals, not answers: {refused} of the changes"] if refused else []),
            ),
            samples={"ready": ready, "alone": alone, "laid out": laid_out},
        ),
        Figure(
            kind="painted",
            ratio=ratio_by_turns(painted, [sum(each) for each in zip(bare, after, strict=True)]),
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


def _press_keys(page: Page, field: Locator, beside: Page) -> tuple[list[float], ...]:
    """Real keys in the calculator's field; in the field beside; and the least that comes after."""
    after: list[float] = []
    before: int = page.evaluate("() => window.took.painted.length")
    bare_before: int = beside.evaluate("() => window.bare.length")
    for turn in range(REAL_KEYS):
        _press(page, field, turn, before + turn + 1)
        _press(beside, beside.locator("#bare"), turn, bare_before + turn + 1)
        alone: float = page.evaluate("() => window.alone()")
        after.append(alone + page.evaluate("() => window.laidOut()"))
    painted: list[float] = page.evaluate("() => window.took.painted")
    bare: list[float] = beside.evaluate("() => window.bare")
    return painted[before:], bare[bare_before:], after


def _press(page: Page, field: Locator, turn: int, count: int) -> None:
    """One key: a digit at the end, or the same digit taken away again. Waits for so many in all."""
    field.focus()
    page.keyboard.press("End")  # it changes nothing, and no key falls into the frame of a focus
    page.wait_for_timeout(BETWEEN_KEYS_MS)
    page.keyboard.press("Backspace" if turn % 2 else "1")
    page.evaluate("count => window.heard(count)", count)
