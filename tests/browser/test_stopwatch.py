"""The stopwatch: right to the tenth, through sleep and a reload, and into the calculator."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage

START = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)


class Stopwatch:
    """The first stopwatch of an open page, and the page's clock.

    A frame is drawn every 16 ms of the faked time: the display is behind by that much at most.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self.clock = page.clock
        self.root = page.locator("hb-stopwatch").first

    def button(self, name: str) -> Locator:
        return self.root.locator(f"[data-hb-{name}]")

    def press(self, name: str) -> None:
        self.button(name).click()

    def expect_time(self, text: str) -> None:
        expect(self.root.locator("[data-hb-time]")).to_have_text(text)


@pytest.fixture
def watch(new_page: NewPage, page_with_stopwatch: str) -> Stopwatch:
    def before(page: Page) -> None:
        page.clock.install(time=START)

    page = new_page(page_with_stopwatch, python=False, before=before)
    page.clock.pause_at(START + dt.timedelta(minutes=1))
    return Stopwatch(page)


@pytest.fixture(scope="session")
def page_with_stopwatch(site_folder) -> str:
    for path in sorted(site_folder.rglob("*.html")):
        if "<hb-stopwatch" in path.read_text("utf-8"):
            return path.relative_to(site_folder).as_posix()
    raise AssertionError("No page holds a stopwatch.")


def test_measures_the_time_between_start_and_stop(watch):
    watch.expect_time("0:00.0")
    watch.press("start")
    watch.clock.run_for(122_440)
    watch.expect_time("2:02.4")
    watch.press("stop")
    watch.clock.run_for(5_000)
    watch.expect_time("2:02.4")


def test_counts_the_time_that_the_tablet_slept(watch):
    watch.press("start")
    watch.clock.run_for(10_000)
    # Asleep for a quarter of an hour: no frame is drawn and no timer fires.
    watch.clock.fast_forward(15 * 60_000)
    watch.clock.run_for(1_050)
    watch.expect_time("15:11.0")


def test_says_so_when_the_clock_of_the_device_jumped(watch):
    watch.press("start")
    watch.clock.run_for(10_000)
    expect(watch.root.locator("[data-hb-slept]")).to_be_empty()
    watch.clock.set_system_time(START + dt.timedelta(minutes=31))
    watch.clock.run_for(100)
    expect(watch.root.locator("[data-hb-slept]")).to_contain_text("slept")


def test_clock_set_back_takes_nothing_away(watch):
    watch.press("start")
    watch.clock.run_for(10_000)
    watch.clock.set_system_time(START - dt.timedelta(hours=1))
    watch.clock.run_for(10_050)
    watch.expect_time("0:20.0")


def test_runs_on_through_a_reload(watch):
    watch.press("start")
    watch.clock.run_for(30_000)
    watch.page.reload()
    watch.clock.run_for(2_000)
    watch.press("stop")
    elapsed = watch.root.locator("[data-hb-time]").inner_text()
    # The reload itself takes the page no faked time.
    assert re.fullmatch(r"0:3[12]\.\d", elapsed)
    watch.page.reload()
    watch.expect_time(elapsed)


def test_carries_on_and_goes_back_to_zero(watch):
    watch.press("start")
    watch.clock.run_for(10_000)
    watch.press("stop")
    watch.press("carry-on")
    watch.clock.run_for(5_000)
    watch.press("stop")
    watch.expect_time("0:15.0")
    watch.press("reset")
    watch.expect_time("0:00.0")
    expect(watch.button("start")).to_be_visible()


def test_second_touch_of_a_glove_does_not_stop_it(watch):
    watch.press("start")
    watch.clock.run_for(100)
    watch.press("stop")
    watch.clock.run_for(950)
    watch.expect_time("0:01.0")


def test_offers_one_large_button_at_a_time(watch):
    for shown, hidden in (("start", "stop"), ("stop", "start")):
        box = watch.button(shown).bounding_box()
        assert box is not None
        assert box["height"] >= 64
        assert box["width"] >= 200
        expect(watch.button(hidden)).to_be_hidden()
        watch.press(shown)
        watch.clock.run_for(1_000)


def test_gives_its_time_to_the_calculator_of_the_step(watch):
    calculator, name = str(watch.root.get_attribute("data-hb-for")).split(".")
    watch.press("start")
    watch.clock.run_for(122_400)
    watch.press("stop")
    watch.press("use")
    shown = CalculatorPage(watch.page, calculator)
    expect(shown.control(name)).to_have_value("122.4")
    expect(shown.control(f"{name}.unit")).to_have_value("s")
    expect(watch.root.locator("[data-hb-said]")).not_to_be_empty()


def test_keeps_the_screen_awake_while_it_runs(new_page, page_with_stopwatch):
    page = new_page("index.html", python=False)
    page.add_init_script(
        """const hold = (count) => { document.documentElement.dataset.held = count; };
        Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => {
            hold(1);
            return {released: false, release: async () => hold(0)};
        }}});"""
    )
    page.goto(page.url.replace("index.html", page_with_stopwatch))
    watch = Stopwatch(page)
    page.clock.install()
    watch.press("start")
    held = page.locator("html")
    expect(held).to_have_attribute("data-held", "1")
    page.clock.run_for(1_000)
    watch.press("stop")
    expect(held).to_have_attribute("data-held", "0")
