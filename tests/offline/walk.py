"""One visit on one device, walked as an engineer walks it: by touch, from page to page."""

from __future__ import annotations

import datetime as dt
import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from tests.drawn.visit import OPTIONAL, OUTSIDE, Drawn
from tests.offline.finger import SOON_MS, follow, put, touch
from tests.offline.kept_edition import LONG_MS
from tests.offline.server import Site
from tests.steps.outcome_rows import NUMBER

RELOADED, SHUT = "before_you_start", "working_pressure"  # pages of every visit
NOT_ALL_ASKED = "ventilation"  # it takes every kind of flue, and each appliance has one
HOUR_MS = 3_600_000
NARROW = 600  # a phone
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
# Each reading of the steps, once: whether it can be seen, and what stands in it.
FIELDS = """() => {
    const lines = [...document.querySelectorAll('#steps li[data-hb-reading]')];
    const named = new Map(lines.reverse().map((line) => [line.dataset.hbReading, line]));
    return [...named].reverse().map(([name, line]) => ({
        name,
        isSeen: line.checkVisibility(),
        isWord: Boolean(line.querySelector('hb-words')),
        value: (line.querySelector('hb-words') ?? line.querySelector('input'))?.value,
    }));
}"""
# What in the tools of a step is wider than its place.
JUTS = """() => {
    const tools = '#steps :is(.hb-stopwatch, .hb-timer, .hb-outcome, .hb-task__readings)';
    return [...document.querySelectorAll(`${tools} *:not(svg, svg *, .hb-unseen, .hb-kept)`)]
        .filter((each) => each.scrollWidth > each.clientWidth + 1)
        .filter((each) => each.checkVisibility() && getComputedStyle(each).display !== 'inline')
        .map((each) => `${each.className}: ${each.textContent.slice(0, 40)}`);
}"""
STANDS = """expected => {
    const lines = [...document.querySelectorAll('#steps li[data-hb-reading]')];
    return Object.entries(expected).every(([name, text]) => {
        const line = lines.find(({dataset}) => dataset.hbReading === name);
        return (line?.querySelector('hb-words') ?? line?.querySelector('input'))?.value === text;
    });
}"""


def value_of(text: str) -> str:
    """What is typed of a reading: its unit stands beside the field."""
    return text.partition(" ")[0] if NUMBER.match(text) else text


class Walk:
    """One visit on one device."""

    def __init__(self, device: BrowserContext, site: Site, visit: Drawn, size: Any) -> None:
        self.device, self.site, self.visit, self.size = device, site, visit, size
        self.typed: set[str] = set()
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
        put(page, "[data-hb-visit-new-name]", visit.name)
        head = page.locator("[data-hb-visit-head]")
        start = page.get_by_role("button", name="Start it")
        touch(start, lambda: expect(head).to_contain_text(visit.name, timeout=LONG_MS))
        follow(page.locator("#checks a"), "which_checks_apply")
        for question, answer in visit.answers.items():
            put(page, f'[data-hb-checks-question="{question}"] input[value="{answer}"]')
        follow(page.get_by_role("link", name="To the checks of this visit"), "checks_in_order")

    def own_figures(self) -> None:
        """What this handbook does not hold, from a copy of the reader's own."""
        self.page.goto(f"{self.site.address}own/your_own.html")
        for figure in self.visit.own:
            line = self.page.locator(f'[data-hb-own="{figure["name"]}"]')
            cells = figure["rows"][0] if "rows" in figure else [figure["value"]]
            for number, cell in enumerate(cells):
                field = line.locator("input").nth(number)
                touch(field, expect(field).to_be_focused)
                self.page.keyboard.insert_text(cell.partition(" ")[0])
            line.locator("input").first.press("Enter")
            expect(line.locator(".hb-kept")).to_contain_text("Used wherever it is asked for")
        self.page.goto(self.site.address)

    def write(self) -> None:
        """Every reading that the page has a field for."""
        # What was not in order asks how it was left: it is there the second time.
        for _ in range(2):
            for field in self.fields():
                name, text = field["name"], self.visit.readings.get(field["name"])
                # A finger that missed, since an answer above came just then, met another word.
                if name in self.typed and field["isWord"] and text and field["value"] != text:
                    self.put(field, text)
                if name in self.typed or not field["isSeen"]:
                    continue
                if text is None:
                    # Nothing is asked for that this appliance does not have, but for what is named.
                    assert name in self.visit.empty | OPTIONAL, f"asked for: {name}"
                    continue
                self.typed.add(name)
                self.put(field, text)

    def fields(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.page.evaluate(FIELDS)
        return found

    def put(self, field: dict[str, Any], text: str) -> None:
        place = f'#steps li[data-hb-reading="{field["name"]}"] input'
        if field["isWord"]:
            put(self.page, f'{place}[value="{text}"]')
        else:
            put(self.page, place, value_of(text))

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
            if number == 1 and self.size["width"] < NARROW:
                self.choose_way()
            if stem == NOT_ALL_ASKED:
                expect(self.page.locator("[data-hb-not-asked]").first).to_be_visible()
            self.write()
            juts = self.page.evaluate(JUTS)
            assert juts == [], stem
            if stem in (RELOADED, SHUT):
                self.again() if stem == RELOADED else self.an_hour_later()
            if stem in self.visit.beside:
                self.beside(self.visit.beside[stem], back_to=stem)
            self.done(number, stem)

    def choose_way(self) -> None:
        """On a phone the steps are read for working; on a tablet as they come, for learning."""
        way = self.page.locator('[data-hb-way-choice="working"]').first
        touch(way, lambda: expect(way).to_have_attribute("aria-pressed", "true"))

    def beside(self, stem: str, back_to: str) -> None:
        """Work through a page that the visit does not ask for, found in the menu, and come back."""
        touch(self.page.locator("[data-hb-menu]"), lambda: None)
        follow(self.page.locator(f'#hb-nav a[href="{stem}.html"]'), stem)
        self.write()
        follow(self.page.locator("[data-hb-check-next] a"), "checks_in_order")
        follow(self.page.locator("[data-hb-go-on] a"), back_to)

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
        # What stops the work, or has no page, comes before it.
        follow(following.locator("a").last, after or "checks_in_order")

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
        mine = {field["name"] for field in self.fields()} & self.typed
        expected = {name: value_of(self.visit.readings[name]) for name in mine}
        self.page.wait_for_function(STANDS, arg=expected, timeout=LONG_MS)

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
        # One appliance has one list, in working order; its end says what is to be done now.
        titles = page.locator("[data-hb-check-id] a").all_text_contents()
        assert [title.partition(" ")[0] for title in titles] == [
            str(number) for number in range(1, len(pages) + 1)
        ]
        not_met = len(pages) - closed
        end = f"Not met: {not_met}" if not_met else "Every check is closed"
        expect(page.locator("[data-hb-go-on]")).to_contain_text(end)
        row = page.locator('[data-hb-check-id][data-state="not_met"]').first
        for said in (page.locator("[data-hb-go-on-unsafe]"), row.get_by_text("Not met").first):
            expect(said).to_be_visible(visible=bool(not_met))
        # Whether the readings fit is worked out where it is looked at, and stands on paper too.
        fit = page.locator("[data-hb-fit]")
        fit.scroll_into_view_if_needed()
        expect(fit.locator("[data-hb-fit-said]")).not_to_be_empty(timeout=LONG_MS)
        follow(page.get_by_role("link", name="The record, for paper and for a file"), "visit")
        last = page.locator('li[data-hb-reading="handover.dangers_told"]')
        expect(last.locator("[data-hb-line-outcome]")).to_have_count(1)
        for name, text in self.visit.notes.items():
            put(page, f'[data-hb-written="{name}"] textarea', text)
        export = page.locator('[data-hb-export="one"]')
        with page.expect_download() as download:
            export.tap()
        [visit] = json.loads(Path(download.value.path()).read_text("utf-8"))["visits"]
        return visit
