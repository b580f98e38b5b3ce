"""Timers: right through sleep, a reload and moves, several at once, and the reading at the end."""

from __future__ import annotations

import datetime as dt

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import STORAGE_FULL, NewPage
from tests.browser.test_pages import faults_in_both_schemes

START = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)
TIGHTNESS = "procedures/tightness_test.html"
LET_BY = "tightness_test.let_by_watch"  # 1 min; its reading goes into a calculator
STABILISE = "tightness_test.stabilise"  # 1 min; no reading
TEST = "tightness_test.end_reading"  # 2 min
SPEAKER = """
    window.heard = [];
    class Sound {
        constructor() { this.state = 'suspended'; this.currentTime = 0; this.destination = {}; }
        async resume() { this.state = 'running'; }
        async suspend() { this.state = 'suspended'; }
    }
    class Source {
        connect(to) { return to; }
        start(at) { heard.push(Date.now()); }
        stop() {}
    }
    class Gain extends Source {
        gain = {setValueAtTime() {}, linearRampToValueAtTime() {}};
    }
    Object.assign(window, {AudioContext: Sound, OscillatorNode: Source, GainNode: Gain});
    window.shook = 0;
    navigator.vibrate = () => { shook += 1; return true; };
    Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => {
        document.documentElement.dataset.held = 1;
        const release = async () => { document.documentElement.dataset.held = 0; };
        return {released: false, release};
    }}});
"""


class Timer:
    """One timer of an open page."""

    def __init__(self, page: Page, key: str) -> None:
        self.root = page.locator(f'hb-timer[data-hb-timer="{key}"]')
        self.step = self.root.locator("xpath=ancestor::li[1]")
        self.time = self.root.locator("[data-hb-time]")

    def button(self, name: str) -> Locator:
        return self.root.locator(f"[data-hb-{name}]")

    def press(self, name: str) -> None:
        self.button(name).click()


class Bar:
    """The timers at the foot of the page."""

    def __init__(self, page: Page) -> None:
        self.root = page.locator("[data-hb-timers]")
        self.items = self.root.locator("[data-hb-item]")
        self.clear = self.root.locator("[data-hb-timers-clear]")


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """The tightness test at nine o'clock, with a speaker and a lock that tests can look at."""

    def before(page: Page) -> None:
        page.add_init_script(SPEAKER)
        page.clock.install(time=START)

    opened = new_page(TIGHTNESS, python=False, before=before, reduced_motion="reduce")
    opened.clock.pause_at(START + dt.timedelta(minutes=1))
    return opened


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


def test_reading_at_the_end_goes_into_the_calculator(page):
    timer = Timer(page, LET_BY)
    timer.press("start")
    page.clock.run_for(61_000)
    reading = timer.root.get_by_label("Let-by, end")
    expect(reading).to_be_focused()
    expect(reading).to_be_in_viewport()
    reading.fill("8.5")
    page.keyboard.press("Enter")
    shown = CalculatorPage(page, "tightness_test")
    expect(shown.control("let_by_end")).to_have_value("8.5")
    expect(timer.root.get_by_role("status")).to_have_text("The calculator has the reading.")
    kept = page.locator('li[data-hb-reading="tightness.let_by_end"] input').first
    expect(kept).to_have_value("8.5")


def test_end_without_a_reading_takes_nobody_away(page):
    Timer(page, STABILISE).press("start")
    search = page.get_by_role("searchbox")
    search.focus()
    page.clock.run_for(61_000)
    expect(Timer(page, STABILISE).root).to_have_attribute("data-state", "over")
    expect(search).to_be_focused()


def test_a_reader_at_another_step_is_left_there_and_finds_the_way_back(page):
    Timer(page, LET_BY).press("start")
    Timer(page, TEST).press("start")
    page.clock.run_for(61_000)
    expect(Timer(page, TEST).button("pause")).to_be_focused()
    Bar(page).items.nth(0).get_by_role("link").click()
    expect(Timer(page, LET_BY).step).to_be_in_viewport()


def test_a_reader_who_types_elsewhere_is_left_there(page):
    Timer(page, LET_BY).press("start")
    search = page.get_by_role("searchbox")
    search.fill("purge")
    page.clock.run_for(61_000)
    expect(Timer(page, LET_BY).root).to_have_attribute("data-state", "over")
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


def test_sound_is_off_though_that_can_not_be_kept_and_is_told_once_beside_it(page):
    page.evaluate(f"() => {{ {STORAGE_FULL} }}")
    timer = Timer(page, LET_BY)
    sound = timer.root.get_by_label("Sound at the end")
    told = page.locator("[data-hb-not-kept]")
    for _ in range(2):
        sound.uncheck()
        expect(sound).not_to_be_checked()
        expect(told).to_have_count(1)
        expect(timer.root.locator("[data-hb-not-kept]")).to_contain_text("Not kept")
        sound.check()  # which is what is there with nothing kept
        expect(told).to_have_count(0)
    sound.uncheck()
    page.evaluate("heard.length = 0")
    timer.press("start")
    page.clock.run_for(61_000)
    assert page.evaluate("heard.length") == 0


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


def test_axe_finds_nothing_while_timers_run(new_page: NewPage):
    page = new_page(TIGHTNESS, python=False, reduced_motion="reduce")
    page.clock.install()
    for key in (LET_BY, STABILISE, TEST):
        Timer(page, key).press("start")
    page.clock.run_for(61_000)
    expect(Timer(page, LET_BY).root).to_have_attribute("data-state", "over")
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
