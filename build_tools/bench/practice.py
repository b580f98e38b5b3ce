"""How soon the next question of practice stands there, and a paper of forty.

The next question is held against the worker's own time for it, and a line of it laid out; the paper
against CPython with the same request. No seed is asked twice: the engine keeps what the calculators
said to the last one.
"""

import json
import statistics
import time
from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.bench.browser import Browser
from build_tools.bench.measurement import Figure, percentile, ratio_by_turns, spread
from build_tools.runtime import bundle, practice_pack
from build_tools.sources.load_project import load
from calcs.bridge import Bridge
from calcs.practice import door

KILO = 1000
SESSION, PAPERS = "practise/session.html", "practise/papers.html"
PAPER = "whole_visit"  # it has forty questions
PAPERS_DRAWN = 4  # the first one warms both up
QUESTIONS = 20
WARM_UP = 3
READ_MS = 200
START_MS = 60_000

# The page draws each question while the one before it is read: how long each of them took.
WATCH = """() => {
    const client = window.hbCalculatorClient;
    const run = client.run.bind(client);
    window.drawn = [];
    client.run = async (request, ...more) => {
        const began = performance.now();
        const reply = await run(request, ...more);
        if (request.about === 'question') window.drawn.push(performance.now() - began);
        return reply;
    };
}"""

# From the touch until the next question stands there and is laid out. Then what a page can't do
# without: how long it took to draw that question, and to lay other words out in its place.
NEXT = """async () => {
    const drawn = window.drawn.at(-1);
    const [where, stem] = ['where', 'stem'].map((part) =>
        document.querySelector(`[data-hb-practice-${part}]`));
    const began = performance.now();
    const shown = await new Promise((resolve) => {
        new MutationObserver((_, watching) => {
            watching.disconnect();
            document.body.getBoundingClientRect();
            resolve(performance.now() - began);
        }).observe(where, {childList: true, characterData: true, subtree: true});
        document.querySelector('[data-hb-practice-on]').click();
    });
    await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 0)));
    const again = performance.now();
    stem.firstChild.data = `${stem.firstChild.data} ${where.textContent}`;
    document.body.getBoundingClientRect();
    return [shown, drawn + performance.now() - again];
}"""

# From the touch until the first question of the paper stands there and is laid out.
SIT = """(seed) => new Promise((resolve) => {
    const form = document.querySelector('[data-hb-papers-form]');
    document.querySelector('[data-hb-papers-seed]').value = seed;
    const began = performance.now();
    document.querySelector('[data-hb-papers-start] [value="sit"]').click();
    const look = () => {
        if (form.hidden) return requestAnimationFrame(look);
        document.body.getBoundingClientRect();
        resolve(performance.now() - began);
    };
    look();
})"""


def measure(browser: Browser) -> Iterator[Figure]:
    """The next question in its page, and a whole paper."""
    yield _next(browser)
    yield _paper(browser)


def _next(browser: Browser) -> Figure:
    """The next question, by a reader who has read the one before: it is drawn by then."""
    page = browser.page(SESSION)
    page.locator("[data-hb-practice-start] [type=submit]").first.click()
    page.locator("[data-hb-practice-where]:not(:empty)").wait_for(timeout=START_MS)
    page.evaluate(WATCH)
    turns = []
    for _ in range(WARM_UP + QUESTIONS):
        page.wait_for_timeout(READ_MS)
        turns.append(page.evaluate(NEXT))
    page.close()
    # No time is known of what was drawn before there was a watch.
    shown, least = ([turn[at] for turn in turns[WARM_UP:]] for at in (0, 1))
    return Figure(
        kind="next question",
        ratio=ratio_by_turns(shown, least),
        told=f"{percentile(shown):.1f} ms for 95 of 100",
        detail=(f"shown               {spread(shown)}", f"drawn and laid out  {spread(least)}"),
        samples={"shown": shown, "least": least},
    )


def _paper(browser: Browser) -> Figure:
    """From the touch to its first question, by turns with CPython."""
    contents = bundle.make()
    door.load_held(practice_pack.make(load(), practice_pack.day_of(contents)))
    bridge = Bridge(json.dumps(contents, ensure_ascii=False))
    page = browser.page(f"{PAPERS}?paper={PAPER}")
    turns = []
    for seed in map(str, range(1, PAPERS_DRAWN + 1)):
        page.wait_for_timeout(READ_MS)
        took = page.evaluate(SIT, seed)
        page.evaluate("document.querySelector('[data-hb-papers-leave]').click()")
        turns.append((took, _here(bridge, {"about": "paper", "paper": PAPER, "seed": seed})))
    page.close()
    ours, python = ([turn[at] for turn in turns[1:]] for at in (0, 1))
    return Figure(
        kind="paper",
        ratio=ratio_by_turns(ours, python),
        told=f"{statistics.median(ours) / KILO:.2f} s",
        detail=(f"its first question   {spread(ours)}", f"CPython              {spread(python)}"),
        samples={"ours": ours, "python": python},
    )


def _here(bridge: Bridge, request: Mapping[str, Any]) -> float:
    """Milliseconds in CPython."""
    text = json.dumps({"action": "practice", **request})
    began = time.perf_counter()
    bridge.answer(text)
    return (time.perf_counter() - began) * KILO
