"""From a key in a step of a procedure to its outcome laid out, with a visit behind it.

Against what no page can do without: the same request asked of the same worker by itself, and a
figure of that outcome laid out. The three by turns, so that a slow moment slows them alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from playwright.sync_api import Page

from build_tools.bench import invented_visit
from build_tools.bench.browser import Browser
from build_tools.bench.measurement import Figure, percentile, ratio_by_turns, spread

KEYS = 40  # for the 95th of 100
WARM_UP = 8
READINGS = 200
VISIT = "A visit with its plate"
BETWEEN_KEYS_MS = 37  # no whole number of frames; short enough that typing never rests


@dataclass(frozen=True)
class Typed:
    """Where is typed: a page, one of its steps, a reading of that."""

    page: str
    step: str
    reading: str


TYPED = (
    Typed("burner_pressure", "recheck_maximum", "burner_pressure.left_max"),
    Typed("gas_rate", "stop_it", "gas_rate.elapsed"),
)

# `window.key` types or takes away a digit. `window.alone` asks what that asked, and shows nothing.
WATCH = """([step, reading]) => {
    const client = window.hbCalculatorClient;
    const run = client.run.bind(client);
    let asked = null;
    client.run = (request, ...more) => {
        if (request.steps?.length === 1) asked = request;
        return run(request, ...more);
    };
    const place = document.querySelector(`[data-hb-outcome="${step}"]`);
    const field = document.querySelector(`li[data-hb-reading="${reading}"] input`);
    const words = field.value;
    field.focus();
    window.key = (turn) => new Promise((resolve) => {
        let began = 0;
        new MutationObserver((_, watching) => {
            watching.disconnect();
            place.getBoundingClientRect(); // has the browser lay out what has changed
            resolve(performance.now() - began);
        }).observe(place, {subtree: true, childList: true, characterData: true});
        field.value = turn % 2 ? words : `${words}1`;
        began = performance.now();
        field.dispatchEvent(new Event('input', {bubbles: true}));
    });
    window.alone = () => new Promise((resolve, reject) => {
        const began = performance.now();
        run(asked, () => resolve(performance.now() - began)).catch(reject);
    });
    window.laidOut = (turn) => {
        const figure = place.querySelector('[data-hb-slot="text"]').firstChild;
        const shown = figure.data;
        const began = performance.now();
        figure.data = `${shown} ${turn}`;
        place.getBoundingClientRect();
        const took = performance.now() - began;
        figure.data = shown;
        return took;
    };
}"""

TURNS = """async ([times, pause]) => {
    const rest = () => new Promise((resolve) => setTimeout(resolve, pause));
    const took = {key: [], alone: [], laidOut: []};
    for (let turn = 0; turn < times; turn += 1) {
        took.key.push(await window.key(turn));
        await rest();
        took.alone.push(await window.alone());
        took.laidOut.push(window.laidOut(turn));
        await rest();
    }
    return took;
}"""


def measure(browser: Browser) -> Iterator[Figure]:
    """Each step, in a profile that holds a visit. It is left open."""
    record = invented_visit.bring(browser, invented_visit.visit(VISIT, 1, READINGS))
    invented_visit.open_one(record, VISIT)
    record.close()
    for each in TYPED:
        yield _outcome(browser, each)


def _outcome(browser: Browser, typed: Typed) -> Figure:
    page = browser.page(f"procedures/{typed.page}.html")
    step = f"{typed.page}.{typed.step}"
    _wait_until_answered(page, step)
    page.evaluate(WATCH, [step, typed.reading])
    took = page.evaluate(TURNS, [WARM_UP + KEYS, BETWEEN_KEYS_MS])
    page.close()
    keys, alone, laid_out = (took[of][WARM_UP:] for of in ("key", "alone", "laidOut"))
    least = [one + other for one, other in zip(alone, laid_out, strict=True)]
    return Figure(
        kind="outcome",
        ratio=ratio_by_turns(keys, least),
        told=f"{percentile(keys):.1f} ms for 95 of 100",
        of=step,
        detail=(
            f"outcome laid out    {spread(keys)}",
            f"asked by itself     {spread(alone)}",
            f"a figure laid out   {spread(laid_out)}",
        ),
        samples={"keys": keys, "alone": alone, "laid out": laid_out},
    )


def _wait_until_answered(page: Page, step: str) -> None:
    """The reading that the visit holds has its outcome, and so the calculators go."""
    place = page.locator(f'[data-hb-outcome="{step}"] [data-hb-slot="text"]')
    place.wait_for(timeout=invented_visit.START_MS, state="attached")
    page.wait_for_timeout(invented_visit.JUDGED_MS)
