"""What a timer does at its end, how it is heard, and what is kept of it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import STORAGE_FULL, Lent, NewPage
from tests.browser.timer_page import LET_BY, STABILISE, TEST, Bar, ClockPage, Timer, at_nine


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


@pytest.fixture
def own_page(new_page: NewPage) -> Page:
    """The same, for a test that leaves something on it."""
    return at_nine(new_page)


def test_ends_on_another_page_and_asks_when_the_reader_comes_back(page):
    Timer(page, LET_BY).press("start")
    page.get_by_role("contentinfo").get_by_role("link", name="Sources").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sources")
    page.clock.run_for(61_000)
    expect(page.get_by_role("alert")).to_contain_text("Time is up: Let-by test, time.")
    assert page.evaluate("heard.length") == 3
    Bar(page).items.get_by_role("link").click()
    expect(Timer(page, LET_BY).root.get_by_label("Let-by, end")).to_be_visible()


def test_goes_on_through_a_reload_and_sounds_after_a_touch(page):
    Timer(page, LET_BY).press("start")
    page.clock.run_for(20_000)
    page.reload()
    page.clock.run_for(1_000)
    timer = Timer(page, LET_BY)
    expect(timer.root).to_have_attribute("data-state", "running")
    assert timer.time.inner_text() in {"0:39", "0:38"}  # the reload takes no faked time
    mute = page.get_by_text("Touch the page once so that it can sound.")
    expect(mute).to_be_visible()
    page.get_by_role("heading", level=1).click()
    page.clock.run_for(400)
    expect(mute).to_be_hidden()
    page.clock.run_for(40_000)
    expect(timer.root).to_have_attribute("data-state", "over")
    assert page.evaluate("heard.length") == 3


def test_ended_before_a_reload_is_not_told_again(page):
    Timer(page, LET_BY).press("start")
    page.clock.run_for(100_000)
    page.reload()
    page.clock.run_for(1_000)
    expect(Timer(page, LET_BY).root).to_have_attribute("data-state", "over")
    expect(page.get_by_role("alert")).to_be_empty()


def test_reading_at_the_end_goes_into_the_calculator(own_page):
    timer = Timer(own_page, LET_BY)
    timer.press("start")
    own_page.clock.run_for(61_000)
    reading = timer.root.get_by_label("Let-by, end")
    expect(reading).to_be_focused()
    expect(reading).to_be_in_viewport()
    reading.fill("8.5")
    own_page.keyboard.press("Enter")
    shown = CalculatorPage(own_page, "tightness_test")
    expect(shown.control("let_by_end")).to_have_value("8.5")
    expect(timer.root.get_by_role("status")).to_have_text("The calculator has the reading.")
    kept = own_page.locator('li[data-hb-reading="tightness.let_by_end"] input').first
    expect(kept).to_have_value("8.5")


def test_end_without_a_reading_takes_nobody_away(own_page):
    Timer(own_page, STABILISE).press("start")
    search = own_page.get_by_role("searchbox")
    search.focus()
    own_page.clock.run_for(61_000)
    expect(Timer(own_page, STABILISE).root).to_have_attribute("data-state", "over")
    expect(search).to_be_focused()


def test_a_reader_at_another_step_is_left_there_and_finds_the_way_back(page):
    Timer(page, LET_BY).press("start")
    Timer(page, TEST).press("start")
    page.clock.run_for(61_000)
    expect(Timer(page, TEST).button("pause")).to_be_focused()
    Bar(page).items.nth(0).get_by_role("link").click()
    expect(Timer(page, LET_BY).step).to_be_in_viewport()


def test_a_reader_who_types_elsewhere_is_left_there(own_page):
    Timer(own_page, LET_BY).press("start")
    search = own_page.get_by_role("searchbox")
    search.fill("purge")
    own_page.clock.run_for(61_000)
    expect(Timer(own_page, LET_BY).root).to_have_attribute("data-state", "over")
    expect(search).to_be_focused()


def test_sound_can_be_turned_off_and_stays_so(page):
    timer = Timer(page, LET_BY)
    timer.root.get_by_label("Sound at the end").uncheck()
    timer.press("start")
    expect(Bar(page).root.get_by_label("Sound")).not_to_be_checked()
    page.clock.run_for(61_000)
    assert page.evaluate("[heard.length, shook]") == [0, 1]
    page.reload()
    expect(timer.root.get_by_label("Sound at the end")).not_to_be_checked()
    timer.root.get_by_label("Sound at the end").check()
    page.clock.run_for(200)
    assert page.evaluate("heard.length") == 3  # heard once, to know how loud it is


def test_sound_is_off_though_that_can_not_be_kept_and_is_told_once_beside_it(own_page):
    own_page.evaluate(f"() => {{ {STORAGE_FULL} }}")
    timer = Timer(own_page, LET_BY)
    sound = timer.root.get_by_label("Sound at the end")
    told = own_page.locator("[data-hb-not-kept]")
    for _ in range(2):
        sound.uncheck()
        expect(sound).not_to_be_checked()
        expect(told).to_have_count(1)
        expect(timer.root.locator("[data-hb-not-kept]")).to_contain_text("Not kept")
        sound.check()  # which is what is there with nothing kept
        expect(told).to_have_count(0)
    sound.uncheck()
    own_page.evaluate("heard.length = 0")
    timer.press("start")
    own_page.clock.run_for(61_000)
    assert own_page.evaluate("heard.length") == 0
