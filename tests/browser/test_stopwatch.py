"""The stopwatch: right to the tenth, through sleep and a reload, and into the calculator."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import Lent, NewPage, UsedPage
from tests.browser.timer_page import START, ClockPage, at_nine


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


@pytest.fixture(scope="module")
def clock_pages(
    browser: Browser, without_python: str, page_with_stopwatch: str
) -> Iterator[Lent[ClockPage]]:
    pages = Lent(lambda: ClockPage(browser, without_python, page_with_stopwatch))
    yield pages
    pages.give_up()


@pytest.fixture
def watch(clock_pages: Lent[ClockPage], request: pytest.FixtureRequest) -> Iterator[Stopwatch]:
    for here in clock_pages.to_test(request.session):
        yield Stopwatch(here.page)


@pytest.fixture
def own_watch(new_page: NewPage, page_with_stopwatch: str) -> Stopwatch:
    """The same, for a test that leaves a reading on the page."""
    return Stopwatch(at_nine(new_page, page_with_stopwatch))


@pytest.fixture(scope="session")
def page_with_stopwatch(site_folder) -> str:
    pages = sorted(
        (site_folder / "procedures").glob("*.html"), key=lambda page: page.stat().st_size
    )
    for path in pages:
        if "<hb-stopwatch" in path.read_text("utf-8"):
            return path.relative_to(site_folder).as_posix()
    raise AssertionError("No procedure holds a stopwatch.")


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


def test_gives_its_time_to_the_calculator_of_the_step(own_watch):
    watch = own_watch
    calculator, name = str(watch.root.get_attribute("data-hb-for")).split(".")
    watch.press("start")
    watch.clock.run_for(122_400)
    watch.press("stop")
    watch.press("use")
    shown = CalculatorPage(watch.page, calculator)
    expect(shown.control(name)).to_have_value("122.4")
    expect(shown.control(f"{name}.unit")).to_have_value("s")
    expect(watch.root.locator("[data-hb-said]")).not_to_be_empty()


def test_keeps_the_screen_awake_while_it_runs(watch):
    watch.press("start")
    held = watch.page.locator("html")
    expect(held).to_have_attribute("data-held", "1")
    watch.clock.run_for(1_000)
    watch.press("stop")
    expect(held).to_have_attribute("data-held", "0")


RUN = {
    "text": "Watch until it reads 4271.476 m³.",
    "takes": "On the plate's input that takes about 131 s.",
    "passing": "It reads 4271.476 m³: stop",
    "reading": "gas_rate.index_second",
    "value": "4271.476",
    "elapsed": "gas_rate.elapsed",
}


@pytest.fixture
def foretold(new_page) -> Stopwatch:
    """The stopwatch of the gas rate, with a run that Python has foretold."""
    page = new_page(
        "procedures/gas_rate.html", python=False, before=lambda page: page.clock.install(time=START)
    )
    page.locator("li[data-hb-live][data-hb-reading='gas_rate.elapsed'] input").wait_for(
        state="attached"
    )
    page.clock.pause_at(START + dt.timedelta(minutes=1))
    page.evaluate(
        "(run) => document.querySelector('hb-stopwatch').dataset.hbRun = JSON.stringify(run)", RUN
    )
    return Stopwatch(page)


def field(page: Page, name: str) -> Locator:
    return page.locator(f"li[data-hb-live][data-hb-reading='{name}'] input")


def test_one_touch_as_the_meter_passes_takes_the_reading_and_the_time(foretold):
    expect(foretold.root).to_contain_text(RUN["text"])
    expect(foretold.root).to_contain_text(RUN["takes"])
    expect(foretold.button("passing")).to_be_hidden()
    foretold.press("start")
    foretold.clock.run_for(130_940)
    expect(foretold.button("passing")).to_have_text(RUN["passing"])
    foretold.press("passing")
    expect(field(foretold.page, RUN["reading"])).to_have_value("4271.476")
    expect(field(foretold.page, RUN["elapsed"])).to_have_value("130.9")


def test_a_figure_that_stands_there_already_is_not_written_over(foretold):
    field(foretold.page, RUN["elapsed"]).fill("118")
    foretold.press("start")
    foretold.clock.run_for(5_000)
    foretold.press("passing")
    expect(field(foretold.page, RUN["elapsed"])).to_have_value("118")
    expect(foretold.root.locator("[data-hb-said]")).to_contain_text("stays")


def test_follows_the_reader_to_other_pages_and_leads_back(watch):
    watch.press("start")
    watch.clock.run_for(10_000)
    watch.page.goto(watch.page.url.rsplit("/", 2)[0] + "/calculators/hot_water.html")
    watch.clock.run_for(1_000)
    line = watch.page.locator("[data-hb-timers] [data-hb-item]")
    expect(line).to_contain_text(re.compile(r"0:1[1-3]"))
    expect(line.locator("a")).to_have_attribute("href", re.compile(r"procedures/.*#.*stopwatch$"))


def test_calculator_that_takes_a_time_has_one_of_its_own(used_page: UsedPage):
    page = used_page("calculators/hot_water.html")
    page.get_by_text("Time it here").click()
    watch = Stopwatch(page)
    watch.press("start")
    page.wait_for_timeout(600)
    watch.press("stop")
    watch.press("use")
    value = CalculatorPage(page, "hot_water").control("elapsed").input_value()
    assert 0.5 <= float(value) <= 5
