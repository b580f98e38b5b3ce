"""Timers: right through sleep, a reload and moves, several at once, and the reading at the end."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.conftest import Lent, NewPage
from tests.browser.timer_page import (
    LET_BY,
    STABILISE,
    START,
    TEST,
    TIGHTNESS,
    Bar,
    ClockPage,
    Timer,
)


@pytest.fixture(scope="module")
def clock_pages(browser: Browser, without_python: str) -> Iterator[Lent[ClockPage]]:
    pages = Lent(lambda: ClockPage(browser, without_python))
    yield pages
    pages.give_up()


@pytest.fixture
def page(clock_pages: Lent[ClockPage], request: pytest.FixtureRequest) -> Iterator[Page]:
    """The tightness test at nine o'clock."""
    for here in clock_pages.to_test(request.session):
        yield here.page


def test_runs_down_and_tells_the_end(page):
    timer = Timer(page, LET_BY)
    expect(timer.time).to_have_text("1:00")
    timer.press("start")
    page.clock.run_for(59_000)
    expect(timer.time).to_have_text("0:01")
    expect(timer.root).to_have_attribute("data-state", "running")
    assert page.evaluate("heard.length + shook") == 0
    page.clock.run_for(1_200)
    expect(timer.root).to_have_attribute("data-state", "over")
    expect(timer.time).to_have_text("0:00")
    expect(page.get_by_role("alert")).to_have_text(
        "Time is up: Let-by test, time. Test the pipework for tightness, step 13."
    )
    assert page.evaluate("[heard.length, shook]") == [3, 1]
    page.clock.run_for(35_000)
    expect(timer.button("late")).to_have_text("Time is up, 0:35 ago.")
    assert page.evaluate("[heard.length, shook]") == [9, 3]


def test_counts_the_time_that_the_tablet_slept(page):
    timer = Timer(page, TEST)
    timer.press("start")
    page.clock.run_for(10_000)
    # Asleep: no frame is drawn and no timer fires.
    page.clock.fast_forward(60_000)
    page.clock.run_for(1_000)
    expect(timer.time).to_have_text("0:49")


def test_wakes_late_and_says_how_late(page):
    timer = Timer(page, LET_BY)
    timer.press("start")
    page.clock.run_for(10_000)
    page.clock.fast_forward(15 * 60_000)
    page.clock.run_for(1_000)
    expect(timer.button("late")).to_have_text("Time is up, 14:11 ago.")
    # Once, not once for each time that was slept through.
    assert page.evaluate("heard.length") == 3


def test_clock_set_back_gives_no_time_back(page):
    timer = Timer(page, LET_BY)
    timer.press("start")
    page.clock.run_for(10_000)
    page.clock.set_system_time(START - dt.timedelta(hours=1))
    page.clock.run_for(10_000)
    expect(timer.time).to_have_text("0:40")


def test_pauses_carries_on_and_goes_back(page):
    timer = Timer(page, LET_BY)
    timer.press("start")
    page.clock.run_for(20_000)
    timer.press("pause")
    page.clock.run_for(30_000)
    expect(timer.time).to_have_text("0:40")
    timer.press("carry-on")
    page.clock.run_for(10_000)
    expect(timer.time).to_have_text("0:30")
    timer.press("pause")
    timer.press("reset")
    expect(timer.time).to_have_text("1:00")
    expect(timer.button("start")).to_be_focused()
    expect(Bar(page).root).to_be_hidden()


def test_second_touch_of_a_glove_does_not_pause_it(page):
    timer = Timer(page, LET_BY)
    timer.press("start")
    page.clock.run_for(100)
    timer.press("pause")
    page.clock.run_for(10_000)
    expect(timer.time).to_have_text("0:50")


def test_several_run_at_once_and_lead_back_to_their_steps_from_any_page(page):
    Timer(page, TEST).press("start")
    page.clock.run_for(5_000)
    Timer(page, LET_BY).press("start")
    page.clock.run_for(1_000)
    page.get_by_role("contentinfo").get_by_role("link", name="Sources").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sources")
    page.clock.run_for(1_000)
    bar = Bar(page)
    # The one that ends first stands first.
    expect(bar.items).to_contain_text(["0:58", "1:53"])
    expect(bar.items.nth(0)).to_contain_text("Let-by test, time")
    expect(bar.items.nth(1)).to_contain_text("Test the pipework for tightness, step 17")
    bar.items.nth(1).get_by_role("link").click()
    expect(Timer(page, TEST).step).to_be_in_viewport()
    page.clock.run_for(1_000)
    expect(Timer(page, TEST).time).to_have_text("1:52")


def test_clearing_all_asks_twice_while_one_runs(page):
    Timer(page, TEST).press("start")
    Timer(page, LET_BY).press("start")
    page.clock.run_for(1_000)
    bar = Bar(page)
    bar.clear.click()
    expect(bar.items).to_have_count(2)
    expect(bar.clear).to_have_text("One still runs: clear all?")
    page.clock.run_for(5_000)
    expect(bar.clear).to_have_text("Clear all")
    bar.clear.click()
    bar.clear.click()
    expect(bar.root).to_be_hidden()
    page.reload()
    expect(Timer(page, TEST).time).to_have_text("2:00")


def test_ended_ones_are_cleared_at_once(page):
    Timer(page, LET_BY).press("start")
    page.clock.run_for(61_000)
    Bar(page).clear.click()
    expect(Bar(page).root).to_be_hidden()
    expect(Timer(page, LET_BY).root).to_have_attribute("data-state", "ready")


def test_keeps_the_screen_awake_until_the_last_has_ended(page):
    held = page.locator("html")
    Timer(page, TEST).press("start")
    Timer(page, LET_BY).press("start")
    expect(held).to_have_attribute("data-held", "1")
    page.clock.run_for(61_000)
    expect(held).to_have_attribute("data-held", "1")
    page.clock.run_for(60_000)
    expect(held).to_have_attribute("data-held", "0")


@pytest.mark.parametrize("kept", ["{", "[]", '{"a.b": {"period": "x"}}', "null"])
def test_what_is_spoilt_in_storage_is_passed_over(page, kept):
    page.evaluate("kept => localStorage.setItem('hb:timers', kept)", kept)
    page.reload()
    Timer(page, LET_BY).press("start")
    page.clock.run_for(1_000)
    expect(Bar(page).items).to_have_count(1)


def test_works_where_storage_is_refused(new_page: NewPage):
    refusing = """for (const store of ['sessionStorage', 'localStorage']) {
        Object.defineProperty(window, store, {get() { throw new DOMException('refused'); }});
    }"""
    page = new_page(TIGHTNESS, python=False, before=lambda page: page.add_init_script(refusing))
    Timer(page, LET_BY).press("start")
    page.get_by_role("contentinfo").get_by_role("link", name="Sources").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sources")
    expect(Bar(page).items).to_contain_text(["0:5"])


def test_without_script_the_period_stands_in_words(new_page: NewPage):
    page = new_page(TIGHTNESS, java_script_enabled=False)
    step = Timer(page, LET_BY).step
    expect(step).to_contain_text("Time it: 1\u00a0min")
    expect(step.get_by_role("button")).to_have_count(0)
    expect(page.locator("[data-hb-timers]")).to_be_hidden()


def test_on_paper_the_period_stands_and_the_timer_does_not(page):
    Timer(page, LET_BY).press("start")
    page.emulate_media(media="print")
    timer = Timer(page, LET_BY)
    expect(timer.step.get_by_text("Time it: 1\u00a0min")).to_be_visible()
    expect(timer.time).to_be_hidden()
    expect(Bar(page).root).to_be_hidden()


@pytest.mark.parametrize("width", [390, 810, 1280])
def test_every_button_is_large_enough_and_nothing_runs_off(page, width):
    page.set_viewport_size({"width": width, "height": 844})
    for key in (LET_BY, STABILISE, TEST):
        Timer(page, key).press("start")
    page.clock.run_for(61_000)
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            'hb-timer :is(button, label:has(input), input:not([type=checkbox])),'
                + '[data-hb-timers] :is(a, button, label)')]
            .filter((element) => element.offsetParent && element.offsetHeight < 44)
            .map((element) => element.outerHTML.slice(0, 120))"""
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    bar = Bar(page).root.bounding_box()
    assert bar is not None
    assert bar["height"] <= 844 * 0.35 + 1


# Axe reads all that is on a page, whatever it is asked about.
LEAVE_THE_TIMERS = """for (const each of document.querySelectorAll(
    '.hb-page__body > :not(:has(hb-timer)), .hb-tasks > li:not(:has(hb-timer)), #hb-nav'))
        each.remove();"""


def test_axe_finds_nothing_while_timers_run(new_page: NewPage):
    page = new_page(TIGHTNESS, python=False, reduced_motion="reduce")
    page.clock.install()
    for key in (LET_BY, STABILISE, TEST):
        Timer(page, key).press("start")
    page.clock.run_for(61_000)
    expect(Timer(page, LET_BY).root).to_have_attribute("data-state", "over")
    page.evaluate(LEAVE_THE_TIMERS)
    # Elsewhere the bar may lie over half of a button, which axe takes for a small one.
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert faults_in_both_schemes(page, "hb-timer, [data-hb-timers]") == {}


def test_last_line_of_a_page_stays_above_the_bar(page):
    Timer(page, LET_BY).press("start")
    page.clock.run_for(1_000)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    foot = page.get_by_role("contentinfo").bounding_box()
    bar = Bar(page).root.bounding_box()
    assert foot is not None
    assert bar is not None
    assert foot["y"] + foot["height"] <= bar["y"] + 1
