"""A page with timers at nine o'clock, as its reader handles it."""

from __future__ import annotations

import datetime as dt

from playwright.sync_api import Browser, Locator, Page

from tests.browser.conftest import TABLET, LentPage, NewPage

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


def at_nine(new_page: NewPage, path: str = TIGHTNESS) -> Page:
    """A page with timers at nine o'clock, with a speaker and a lock that tests can look at."""

    def before(page: Page) -> None:
        page.add_init_script(SPEAKER)
        page.clock.install(time=START)

    opened = new_page(path, python=False, before=before, reduced_motion="reduce")
    opened.clock.pause_at(START + dt.timedelta(minutes=1))
    return opened


# All timers are cleared as by another window of the handbook. Whether the page is as it was then.
AS_NEW = """path => {
    localStorage.clear();
    sessionStorage.clear();
    if (location.pathname !== path || matchMedia('print').matches) return false;
    dispatchEvent(new StorageEvent('storage', {key: 'hb:timers'}));
    Object.assign(window, {heard: [], shook: 0});
    document.activeElement.blur();
    scrollTo(0, 0);
    return document.querySelector('[data-hb-timers]').hidden
        && [...document.querySelectorAll('hb-timer')].every(
            ({dataset}) => dataset.state === 'ready')
        && [...document.querySelectorAll('hb-stopwatch')].every(
            ({dataset}) => dataset.state === 'zero')
        && [...document.querySelectorAll('main input:not([type=checkbox], [type=radio])')].every(
            ({value, defaultValue}) => value === defaultValue);
}"""


class ClockPage(LentPage):
    """A page at nine o'clock that stays open from one test to the next: its timers are cleared.

    Its clock goes on from where the test before left it. What a test types, and what it puts into
    the page, would stay: such a test needs `at_nine`.
    """

    def __init__(self, browser: Browser, address: str, path: str = TIGHTNESS) -> None:
        super().__init__(browser, address)
        self.path = path
        self.page.emulate_media(reduced_motion="reduce")
        self.page.add_init_script(SPEAKER)
        self.page.clock.install(time=START)
        self.page.goto(address + path)
        self.page.clock.pause_at(START + dt.timedelta(minutes=1))

    def wipe(self) -> None:
        """Have no timer, or raise; where the test went elsewhere, come back."""
        assert self.context.pages == [self.page]
        if self.page.viewport_size != TABLET:
            self.page.set_viewport_size(TABLET)  # type: ignore[arg-type]
        if not self.page.evaluate(AS_NEW, f"/{self.path}"):
            self.page.emulate_media(media="null")
            self.page.goto(self.address + self.path)
            assert self.page.evaluate(AS_NEW, f"/{self.path}")
