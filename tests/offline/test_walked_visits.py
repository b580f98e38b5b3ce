"""Visits that are drawn with a seed, walked by touch on a phone or a tablet without a network.

One device keeps the edition once, then the network goes. Each visit is walked as an engineer walks
it: from the first page, answer by answer, check by check, to the record and its paper. On the way a
page is loaded anew, and on another the browser is shut for an hour while a timer runs.
"""

from __future__ import annotations

import datetime as dt
import json
import re
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect
from playwright.sync_api import Error as PlaywrightError

from tests.drawn import back_boiler, premix, water_heater
from tests.drawn.visit import OPTIONAL, OUTSIDE, Drawn
from tests.offline.kept_edition import LONG_MS, expect_state
from tests.offline.server import Site, served
from tests.steps.outcome_rows import NUMBER
from tests.steps.test_drawn_visits import is_on

PHONE = {"width": 390, "height": 844}
TABLET = {"width": 810, "height": 1080}
# Of each page of a walk so many fields are touched; the rest are filled in one go, by the events
# that a finger and a keyboard send. In one walk all are touched.
ALL, TWO = 1000, 2
WALKS = (
    pytest.param(premix.draw(11), PHONE, ALL, id="premix"),
    pytest.param(back_boiler.draw(5), TABLET, TWO, id="back-boiler"),
    pytest.param(water_heater.draw(2), PHONE, TWO, id="water-heater"),
)
RELOADED, SHUT = "before_you_start", "working_pressure"  # pages of every visit
NOT_ALL_ASKED = "ventilation"  # it takes every kind of flue, and each appliance has one
HOUR_MS = 3_600_000
# The browser's clock is set forward or back by so much.
CLOCK = """((shift) => {
    const Real = Date;
    globalThis.Date = class extends Real {
        constructor(...given) {
            super(...(given.length ? given : [Real.now() + shift]));
        }
        static now() {
            return Real.now() + shift;
        }
    };
})(%d);"""
NINE = 9  # o'clock, when each visit begins: its hour is in one day
# What was found outside and is no fault that is left.
AS_FOUND = re.compile(r"found|burner_pressure\.inlet_working$")
# Where a finger meets the thing, and what lies over it there.
REACH = """place => {
    place.scrollIntoView({block: 'center'});
    const box = place.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const met = document.elementFromPoint(x, y);
    return {x, y, over: place.contains(met) ? '' : (met?.outerHTML ?? 'nothing').slice(0, 120)};
}"""
# Tells later whether a finger met the thing: null until it has met anything.
FEEL = """place => {
    globalThis.hbMet = null;
    addEventListener('click', ({target}) => { globalThis.hbMet = place.contains(target); },
        {capture: true, once: true});
}"""
FIELDS = """() => [...document.querySelectorAll('#steps li[data-hb-reading]')].map(
    (line) => line.dataset.hbReading)"""
# Headings on paper under which nothing stands.
BARE = """() => {
    const heads = '.hb-sheet__title, .hb-sheet__group';
    return [...document.querySelectorAll(heads)]
        .filter(({nextElementSibling: next}) => !next || next.matches(heads))
        .map((head) => head.textContent);
}"""
AT_ONCE = """typed => {
    for (const [name, text] of Object.entries(typed)) {
        const line = document.querySelector(`#steps li[data-hb-reading="${name}"]`);
        const radio = line.querySelector(`input[type="radio"][value="${text}"]`);
        if (radio) {
            radio.click();
            continue;
        }
        const field = line.querySelector('input');
        field.value = text;
        for (const type of ['input', 'change'])
            field.dispatchEvent(new Event(type, {bubbles: true}));
    }
}"""
PAGE = re.compile(rb"/Type\s*/Page\b")
TRIES, SOON_MS, FELT_WITHIN_S = 6, 2_000, 15


@pytest.fixture(scope="module")
def site(editions) -> Iterator[Site]:
    with served(editions.hosted) as there:
        yield there


@pytest.fixture(scope="module")
def device(opened: Browser, site: Site, at_once: str) -> Iterator[BrowserContext]:
    """One that is touched, has kept the edition and has lost the network."""
    faults: list[str] = []
    context = opened.new_context(
        has_touch=True, is_mobile=True, locale="en-GB", reduced_motion="reduce"
    )
    context.set_default_timeout(LONG_MS)
    context.on("weberror", lambda error: faults.append(str(error.error)))
    context.add_init_script(at_once)
    page = context.new_page()
    page.goto(site.address)
    expect_state(page, "kept")
    page.close()
    site.cut()
    context.set_offline(True)
    yield context
    context.close()
    assert faults == []


def touch(place: Locator, done: Callable[[], None]) -> None:
    """Touch a thing until it has done what it does: what comes above it may move it away."""
    over = ""
    for patience_ms in (LONG_MS, *[SOON_MS] * (TRIES - 1)):
        try:
            at = place.evaluate(REACH, timeout=patience_ms)
            over = at["over"]
            if over or place.evaluate(REACH, timeout=patience_ms) != at:
                continue
            place.evaluate(FEEL, timeout=patience_ms)
        except PlaywrightError:
            # It is not there any more: the finger before met it, and a busy machine said so late.
            return done()
        place.page.touchscreen.tap(at["x"], at["y"])
        if not is_met(place.page):
            continue
        try:
            return done()
        except AssertionError:
            continue
    raise AssertionError(f"{place} does not answer to a finger; over it lies: {over}")


def is_met(page: Page) -> bool:
    """Whether the finger met what it was to meet. It did where the page gave way to another."""
    deadline = time.monotonic() + FELT_WITHIN_S
    while time.monotonic() < deadline:
        with suppress(PlaywrightError):  # the page gives way just now
            met: bool | None = page.evaluate("globalThis.hbMet")
            if met is not None:
                return met
            if page.evaluate("!('hbMet' in globalThis)"):
                return True
        page.wait_for_timeout(20)
    return False


def follow(link: Locator, stem: str) -> None:
    """Touch a link, and be on its page."""
    at = re.compile(rf"/{stem}\.html(#.*)?$")
    touch(link, lambda: expect(link.page).to_have_url(at, timeout=LONG_MS))


def value_of(text: str) -> str:
    """What is typed of a reading: its unit stands beside the field."""
    return text.partition(" ")[0] if NUMBER.match(text) else text


class Walk:
    """One visit on one device."""

    def __init__(
        self, device: BrowserContext, site: Site, visit: Drawn, size: Any, by_touch: int
    ) -> None:
        self.device, self.site, self.visit, self.size = device, site, visit, size
        self.by_touch = by_touch  # of the fields of each page
        self.typed: set[str] = set()
        self.touched = 0  # of the fields of this page
        now = dt.datetime.now().astimezone()
        nine = now.replace(hour=NINE, minute=0, second=0)
        self.shift_ms = int((nine - now).total_seconds() * 1000)
        self.page = self.opened()

    def opened(self) -> Page:
        """The first page, in a browser that has just been started."""
        page = self.device.new_page()
        page.set_viewport_size(self.size)
        page.add_init_script(CLOCK % self.shift_ms)
        page.goto(self.site.address)
        return page

    def begin(self) -> None:
        """A new visit, and its answers."""
        page, visit = self.page, self.visit
        follow(page.get_by_role("link", name="Start", exact=True), "checks_in_order")
        self.fill(page.locator("[data-hb-visit-new-name]"), visit.name)
        head = page.locator("[data-hb-visit-head]")
        start = page.get_by_role("button", name="Start it")
        touch(start, lambda: expect(head).to_contain_text(visit.name, timeout=LONG_MS))
        follow(page.locator("#checks a"), "which_checks_apply")
        for question, answer in visit.answers.items():
            place = page.locator(f'[data-hb-checks-question="{question}"]')
            self.choose(place.locator(f'input[value="{answer}"]'))
        follow(page.locator('main a[href$="checks_in_order.html"]').last, "checks_in_order")

    def fill(self, field: Locator, text: str) -> None:
        touch(field, lambda: expect(field).to_be_focused(timeout=SOON_MS))
        self.page.keyboard.insert_text(text)

    def choose(self, radio: Locator) -> None:
        word = radio.locator("xpath=..")  # the button itself, with its word
        touch(word, lambda: expect(radio).to_be_checked(timeout=SOON_MS))

    def own_figures(self) -> None:
        """What this handbook does not hold, from a copy of the reader's own."""
        self.page.goto(f"{self.site.address}own/your_own.html")
        for figure in self.visit.own:
            line = self.page.locator(f'[data-hb-own="{figure["name"]}"]')
            cells = figure["rows"][0] if "rows" in figure else [figure["value"]]
            for number, cell in enumerate(cells):
                self.fill(line.locator("input").nth(number), cell.partition(" ")[0])
            line.locator("input").first.press("Enter")
            expect(line.locator(".hb-kept")).to_contain_text("Used wherever it is asked for")
        self.page.goto(self.site.address)

    def line(self, name: str) -> Locator:
        return self.page.locator(f'#steps li[data-hb-reading="{name}"]').first

    def write(self) -> None:
        """Every reading that the page has a field for: some by touch, then the rest at once."""
        rest: dict[str, str] = {}
        for name in dict.fromkeys(self.page.evaluate(FIELDS)):
            line, text = self.line(name), self.visit.readings.get(name)
            is_left = name.endswith("_left")
            if name in self.typed or not (line.is_visible() or (is_left and text)):
                continue
            if text is None:
                # Nothing is asked for that this appliance does not have, but for what is named.
                left_out = self.visit.empty | OPTIONAL
                assert name in left_out or is_left, f"asked for: {name}"
                continue
            self.typed.add(name)
            if self.touched < self.by_touch:
                self.touched += 1
                self.put(line, text)
            else:
                rest[name] = value_of(text)
        self.touched = 0
        self.page.evaluate(AT_ONCE, rest)

    def put(self, line: Locator, text: str) -> None:
        if line.locator("hb-words").count():
            self.choose(line.locator(f'input[value="{text}"]'))
        else:
            self.fill(line.locator("input"), value_of(text))

    def through(self) -> None:
        """From check to check, by the page's own links, until none is left."""
        pages = self.visit.pages
        follow(self.page.locator("[data-hb-go-on] a"), pages[0])
        for number, stem in enumerate(pages, 1):
            expect(self.page).to_have_url(re.compile(rf"/{stem}\.html"))
            following = self.page.locator("[data-hb-check-next]")
            expect(following).to_be_visible()
            if self.page.locator("#steps").count():
                place = self.page.locator("[data-hb-check-place]")
                expect(place).to_have_text(f"Check {number} of {len(pages)}")
            if stem == NOT_ALL_ASKED:
                expect(self.page.locator("[data-hb-not-asked]").first).to_be_visible()
            self.write()
            if stem in (RELOADED, SHUT):
                self.again() if stem == RELOADED else self.an_hour_later()
            self.done(number, stem)

    def done(self, number: int, stem: str) -> None:
        """Mark the check of the page as done, and go on."""
        pages = self.visit.pages
        after = pages[number] if number < len(pages) else ""
        following = self.page.locator("[data-hb-check-next]")
        button = following.get_by_role("button", name="This check is done", exact=True)
        if after == stem:  # the page serves the next check too
            place = self.page.locator("[data-hb-check-place]")
            said = f"Check {number + 1} of {len(pages)}"
            touch(button, lambda: expect(place).to_have_text(said, timeout=LONG_MS))
            return
        back = following.get_by_role("button", name="Take that back")
        touch(button, lambda: expect(back).to_be_visible(timeout=LONG_MS))
        follow(following.locator("a"), after or "checks_in_order")

    def again(self) -> None:
        """The page is loaded anew just after its last field was filled."""
        self.page.reload()
        expect(self.page.locator("[data-hb-check-next]")).to_be_visible()
        self.stands()

    def an_hour_later(self) -> None:
        """The browser is shut while a timer runs, and started an hour later."""
        timer = self.page.locator("hb-timer").first
        running = re.compile("running")
        touch(
            timer.locator("[data-hb-start]"),
            lambda: expect(timer).to_have_attribute("data-state", running, timeout=SOON_MS),
        )
        self.page.close()
        self.shift_ms += HOUR_MS
        self.page = self.opened()
        open_visit = self.page.locator("[data-hb-visit-home]")
        expect(open_visit).to_contain_text(self.visit.name)
        follow(open_visit.get_by_role("link"), "checks_in_order")
        follow(self.page.locator("[data-hb-go-on] a"), SHUT)
        timer = self.page.locator("hb-timer").first
        expect(timer).to_have_attribute("data-state", "over", timeout=LONG_MS)
        expect(self.page.locator("[data-hb-check-next]")).to_be_visible()
        self.stands()

    def stands(self) -> None:
        """What was typed on this page stands there."""
        for name in dict.fromkeys(self.page.evaluate(FIELDS)):
            if name not in self.typed:
                continue
            text = self.visit.readings[name]
            if self.line(name).locator("hb-words").count():
                expect(self.line(name).locator("input:checked")).to_have_value(text)
            else:
                expect(self.line(name).locator("input")).to_have_value(value_of(text))

    def recorded(self) -> dict[str, Any]:
        """The visit as it is taken along."""
        page = self.page
        pages, states = self.visit.pages, self.visit.states
        wrong = {
            step.partition(".")[0]
            for step, state in states.items()
            if state == OUTSIDE and not AS_FOUND.search(step)
        }
        closed = sum(stem not in wrong for stem in pages)
        said = f"{closed} of {len(pages)} closed."
        expect(page.locator("[data-hb-checks-done]")).to_have_text(said)
        expect(page.locator("[data-hb-missing]")).to_be_hidden()
        # Whether the readings fit is worked out where it is looked at, and stands on paper too.
        fit = page.locator("[data-hb-fit]")
        fit.scroll_into_view_if_needed()
        expect(fit.locator("[data-hb-fit-said]")).not_to_be_empty(timeout=LONG_MS)
        follow(page.get_by_role("link", name="The record, for paper and for a file"), "visit")
        last = page.locator('li[data-hb-reading="handover.dangers_told"]')
        expect(last.locator("[data-hb-line-outcome]")).to_have_count(1)
        export = page.locator('[data-hb-export="one"]')
        with page.expect_download() as download:
            export.tap()
        [visit] = json.loads(Path(download.value.path()).read_text("utf-8"))["visits"]
        return visit


@pytest.fixture
def walk(device: BrowserContext, site: Site, request: pytest.FixtureRequest) -> Iterator[Walk]:
    visit, size, by_touch = request.param
    walking = Walk(device, site, visit, size, by_touch)
    yield walking
    session = device.new_cdp_session(walking.page)
    kept = {"origin": site.address.rstrip("/"), "storageTypes": "indexeddb,local_storage"}
    session.send("Storage.clearDataForOrigin", kept)
    walking.page.close()


@pytest.mark.parametrize(
    "walk",
    [pytest.param(each.values, id=each.id) for each in WALKS],
    indirect=True,
)
def test_a_visit_is_walked_by_touch_and_its_record_is_what_was_drawn(walk: Walk, site: Site):
    visit, asked = walk.visit, len(site.asked)
    if visit.own:
        walk.own_figures()
    walk.begin()
    walk.through()
    record = walk.recorded()
    assert set(site.asked[asked:]) <= {"service-worker.js"}  # the browser itself looks for that

    kept = {each["name"]: each["value"] for each in record["readings"]}
    assert kept == {name: value_of(text) for name, text in visit.readings.items()}
    outcomes = {
        each["step"]: each for each in record["outcomes"] if is_on(each["step"], visit.pages)
    }
    assert {step: each["state"] for step, each in outcomes.items()} == visit.states
    for step, words in visit.told.items():
        assert words in outcomes[step]["text"].replace("\N{NO-BREAK SPACE}", " "), step

    page = walk.page
    pdf = page.pdf(prefer_css_page_size=True, format="A4")
    assert len(PAGE.findall(pdf)) == 2
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(page.locator(".hb-sheet__side")).to_have_count(2)
    assert page.evaluate(BARE) == []
    text = str(page.locator(".hb-sheets").text_content()).replace("\N{NO-BREAK SPACE}", " ")
    lost = {value for value in kept.values() if value not in text}
    assert lost == set()
