"""Every page: readable without script, open to all, whole at every width, silent to the world."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock
from playwright.sync_api import Page, expect

from build_tools.for_hosts.axe import AXE
from tests.browser.accessibility import (
    BUT_DEAR,
    COLOURS,
    DEAR,
    DISPLAYS,
    EVERY_RULE,
    faults,
    faults_in_both_schemes,
    ready,
    show,
)
from tests.browser.calculator_page import START_MS
from tests.browser.colours import MANY_WAYS, NEW_COLOURS
from tests.browser.conftest import PHONE, TABLET, NewPage, UsedPage
from tests.workers import MadeOnce

OTHER_WIDTHS = (PHONE["width"], 1280)  # than the tablet's
HEIGHT = 844
SCHEMES = ("light", "dark")
FRAME = [".md-header", "#hb-nav", ".md-footer"]
# That all stands in a landmark comes from the template: one page of each kind tells.
OF_WORDS = {**EVERY_RULE, "rules": {rule: {"enabled": False} for rule in (*DEAR, "region")}}
TURNS = 6  # in which the pages are looked at: a worker that has none left takes some over


@pytest.fixture(scope="session")
def paths(site_folder: Path) -> list[str]:
    """Every page of the site."""
    found = sorted(path.relative_to(site_folder).as_posix() for path in site_folder.rglob("*.html"))
    assert "index.html" in found
    return found


def opened(page: Page, address: str) -> None:
    """Go to a page and open all that is folded on it."""
    page.goto(address)
    ready(page)
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")


# A name that is there twice, where the second can't be reached by it.
TWICE = """() => {
    const names = [...document.querySelectorAll('[id]')].map((each) => each.id);
    return names.filter((name, place) => names.indexOf(name) !== place);
}"""


class Seen:
    """The ways in which words are coloured that any worker has looked at, by the display."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def of(self, display: str) -> list[str]:
        return (self.folder / display).read_text("utf-8").splitlines()

    def add(self, display: str, fresh: list[str]) -> None:
        with (
            FileLock(self.folder / "lock"),
            (self.folder / display).open("a", encoding="utf-8") as out,
        ):
            out.writelines(f"{way}\n" for way in fresh)


@pytest.fixture(scope="session")
def seen(made_once: MadeOnce) -> Seen:
    def none_yet(folder: Path) -> None:
        for display in SCHEMES:
            (folder / display).touch()

    return Seen(made_once("colours", none_yet))


@pytest.mark.parametrize("turn", range(TURNS))
def test_every_page_is_open_to_all_in_both_schemes_and_no_wider_than_the_screen(
    new_page: NewPage, paths, seen, turn
):
    # One visit to each page for all of it: opening them is what takes the time.
    page = new_page("404.html", python=False, color_scheme="light")
    page.add_init_script(path=AXE)
    start = page.url.removesuffix("404.html")
    found: dict[tuple[str, str], list[str]] = {}
    assert len(paths) > TURNS
    for path in paths[turn::TURNS]:
        # In an order in which a page is laid out anew as seldom as may be: the sheet comes first.
        page.set_viewport_size({"width": SHEET, "height": HEIGHT})
        opened(page, start + path)
        found[path, "names"] = page.evaluate(TWICE)
        found[path, "print"] = off_the_sheet(page)
        show(page, "light", media="screen")
        for width in (*OTHER_WIDTHS, TABLET["width"]):
            found[path, f"width {width}"] = too_wide(page, width)
        found[path, "touch"] = page.evaluate(TOO_SMALL)
        # Colours are looked at in both schemes, but once for each way that words are coloured.
        for scheme in SCHEMES:
            if scheme == "dark":
                show(page, scheme)
            if fresh := page.evaluate(NEW_COLOURS, seen.of(scheme)):
                seen.add(scheme, fresh)
                found[path, scheme] = faults(page, COLOURS, within="[data-new-colours]")
        # Last, for it takes away what is looked at elsewhere: axe reads all that stands on a page.
        # What is named, ordered and labelled is the same in both schemes.
        page.evaluate(TAKE_AWAY, looked_at_elsewhere(path))
        found[path, "words"] = faults(page, OF_WORDS)
        # What is empty is quickly made ready for the next.
        page.evaluate("document.body.replaceChildren()")
        page.emulate_media(**DISPLAYS["light"])
    assert {where: wrong for where, wrong in found.items() if wrong} == {}
    assert all(len(seen.of(scheme)) > MANY_WAYS for scheme in SCHEMES), (
        "Too few colours were found."
    )


TAKE_AWAY = """names => {
    for (const each of document.querySelectorAll(names.join())) each.remove();
}"""


def looked_at_elsewhere(path: str) -> list[str]:
    """The frame, and in other pages the calculators, which have each a page of their own."""
    has_frame_looked_at = path == "index.html"
    frame = [] if has_frame_looked_at else FRAME
    return [*frame, *([] if path.startswith("calculators/") else ["hb-calculator"])]


# One of each kind: what a kind of page has, each of its pages has.
KINDS = (
    "index.html",
    "procedures/fire_and_back_boiler.html",
    "calculators/gas_rate.html",
    "reference/changes.html",
    "record/visit.html",
)


# Opens what is folded, or folds it again.
FOLDS = """opened => {
    window.folded ??= [...document.querySelectorAll('details:not([open])')];
    for (const fold of window.folded) fold.open = Boolean(opened);
}"""


def test_each_kind_of_page_is_open_to_all_on_a_phone_on_a_desk_and_in_sunlight(
    used_page: UsedPage,
):
    """What stands beside the page there, and what is hidden; a tablet is tried above."""
    found = {}
    ways: list[str] = []
    for path in KINDS:
        page = used_page(path, **DISPLAYS["sunlight"])
        ready(page)
        page.evaluate(FOLDS, "opened")
        if fresh := page.evaluate(NEW_COLOURS, ways):
            ways.extend(fresh)
            found[path, "sunlight"] = faults(page, COLOURS, within="[data-new-colours]")
        page.evaluate(FOLDS, "")
        page.evaluate(TAKE_AWAY, looked_at_elsewhere(path))
        for width in OTHER_WIDTHS:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            found[path, width] = faults(page, BUT_DEAR)
    assert {where: wrong for where, wrong in found.items() if wrong} == {}
    assert len(ways) > MANY_WAYS


# A4 less the margins of print.css, in the 96ths of an inch that a browser prints with.
SHEET = 680
SIDEWAYS = 1009
OFF_THE_SHEET = """([upright, sideways]) => [...document.querySelectorAll('body *')]
    .filter((element) => element.checkVisibility() && !element.closest('svg, .hb-unseen'))
    .filter((element) => element.getBoundingClientRect().right > 1 +
        (getComputedStyle(element.closest('.hb-wide') ?? element).page === 'sideways'
            ? sideways : upright))
    .map((element) => element.outerHTML.slice(0, 160))"""


# What is touched with gloves on, and is less than 44 high; a link that stands apart, less than 24;
# either, less than 24 wide.
TOO_SMALL = """() => {
    const touched = 'button, input, select, textarea, summary, nav a, [role=button]';
    const most = (element, side) => {
        const label = /checkbox|radio/.test(element.type) ? element.labels[0] : null;
        return Math.max(...[element, label].filter(Boolean).map(
            (each) => each.getBoundingClientRect()[side]));
    };
    const letters = (element) => element.textContent.replace(/[^\\p{L}\\p{N}]+/gu, '');
    const isAmongWords = (link) => {
        const isWord = (element) => getComputedStyle(element).display === 'inline';
        let block = link;
        while (isWord(block)) block = block.parentElement;
        return isWord(link) && letters(block) !== letters(link);
    };
    const isTooSmall = (each) => {
        const isTouched = each.matches(touched);
        if (!isTouched && isAmongWords(each)) return false;
        return most(each, 'height') < (isTouched ? 44 : 24) || most(each, 'width') < 24;
    };
    return [...document.querySelectorAll(`${touched}, a[href]`)]
        .filter((each) => each.checkVisibility() && !each.closest('svg, .hb-unseen'))
        .filter(isTooSmall)
        .map((each) => each.outerHTML.slice(0, 160));
}"""


def off_the_sheet(page: Page) -> list[str]:
    """What runs off the side of a sheet, in a window of its width; the page is left as printed."""
    page.emulate_media(media="print", **DISPLAYS["light"])
    found: list[str] = page.evaluate(OFF_THE_SHEET, [SHEET, SIDEWAYS])
    return found


def too_wide(page: Page, width: int) -> list[str]:
    """How far a page runs off the side of a screen; the width is left."""
    page.set_viewport_size({"width": width, "height": HEIGHT})
    wide = page.evaluate("document.documentElement.scrollWidth")
    return [f"{wide} at {width}"] if wide > width else []


def test_axe_finds_nothing_in_answers_and_refusals(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    page.locator("[name=volume]").fill("500")
    page.locator("[type=submit]").click()
    expect(page.locator("[data-hb-summary]")).to_be_focused(timeout=START_MS)
    assert faults_in_both_schemes(page, "hb-calculator") == {}
    page.locator("[data-hb-fill-example]").click()
    expect(page.locator("[data-state=answered]")).to_be_visible()
    assert faults_in_both_schemes(page, "hb-calculator") == {}


def test_everything_to_touch_is_large_enough(new_page: NewPage):
    page = new_page(
        "calculators/gas_rate.html", python=False, viewport={"width": 390, "height": 844}
    )
    ready(page)
    small: Any = page.evaluate(
        """() => [...document.querySelector('[data-hb-form]').querySelectorAll(
                'input, select, button, summary')]
            .map((element) => element.type === 'radio' ? element.labels[0] : element)
            .filter((element) => element.offsetParent && element.offsetHeight < 44)
            .map((element) => element.outerHTML)"""
    )
    assert small == []


def test_calculator_without_script_shows_its_whole_example(new_page: NewPage):
    page = new_page("calculators/gas_rate.html", java_script_enabled=False)
    expect(page.locator("[data-hb-form]")).to_be_hidden()
    expect(page.locator("hb-calculator")).to_have_attribute("data-state", "example")
    for part in ("answer", "verdict", "working", "sources"):
        expect(page.locator(f"[data-hb-result] [data-hb-{part}]").first).to_be_visible()
    assert page.locator("[data-hb-working] li").count() > 1


def test_procedure_without_script_shows_its_steps_and_no_stopwatch(new_page: NewPage, paths):
    procedures = [path for path in paths if path.startswith("procedures/")]
    assert procedures
    page = new_page("index.html", java_script_enabled=False)
    start = page.url.removesuffix("index.html")
    for path in procedures:
        page.goto(start + path)
        for heading in ("Purpose", "Steps", "Sources"):
            expect(page.get_by_role("heading", name=heading, exact=True)).to_be_visible()
        for stopwatch in page.locator("[data-hb-stopwatch-body]").all():
            expect(stopwatch).to_be_hidden()
