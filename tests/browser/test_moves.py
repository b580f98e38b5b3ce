"""Pages reached by a move without a reload are as open to all, and as alive, as those loaded."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.accessibility import BUT_DEAR, faults, ready
from tests.browser.calculator_page import START_MS, CalculatorPage
from tests.browser.conftest import PATIENCE_MS, NewPage, UsedPage, Warm
from tests.browser.record_page import RECORD

START = "reference/pressures_and_units.html"
# One page of each kind, and one of each thing that comes to life on a page.
KINDS = [
    "index.html",
    "procedures/which_checks_apply.html",  # the form of the checks
    "procedures/working_pressure.html",  # ticks, a timer, a calculator in a step
    "procedures/gas_rate.html",  # a stopwatch
    "calculators/burner_pressure.html",  # a chart
    "calculators/pipe_size.html",  # a table of rows
    "reference/glossary.html",
    "reference/sources.html",
]
# What Tab must stop at, each told by its place on the page; of a set of radios, one.
STOPS = """() => {
    const all = [...document.querySelectorAll(
        'main :is(a[href], button, input, select, textarea, summary, [tabindex="0"])')];
    const shown = all.filter((each) => each.checkVisibility({visibilityProperty: true})
        && !each.disabled && each.tabIndex >= 0);
    const sets = new Set();
    window.stops = shown.filter((each) => {
        if (each.type !== 'radio') return true;
        const near = each.form?.elements ?? document.querySelectorAll('main input');
        const set = [...near].filter((other) => other.name === each.name);
        return each === (set.find((other) => other.checked) ?? set[0]);
    });
    window.reached = new Set();
    document.addEventListener('focusin', ({target}) => window.reached.add(target));
    return window.stops.length;
}"""
MISSED = """() => window.stops.filter((each) => !window.reached.has(each))
    .map((each) => each.outerHTML.slice(0, 160))"""


def move(page: Page, path: str) -> None:
    """Follow the menu's link by keyboard, as a reader does."""
    menu = page.get_by_role("button", name="Menu")
    menu.focus()
    page.keyboard.press("Enter")
    wanted = page.evaluate(
        """path => {
            const link = [...document.querySelectorAll('#hb-nav a')]
                .find((each) => new URL(each.href).pathname === '/' + path);
            link.focus();
            return link.matches(':focus');
        }""",
        path,
    )
    assert wanted, f"no link to {path} takes the focus"
    page.keyboard.press("Enter")
    page.wait_for_url("**/" + path)
    expect(page.get_by_role("heading", level=1)).to_be_focused()
    assert page.evaluate("window.before"), f"{path} was loaded, not moved to"


@pytest.fixture
def page(new_page: NewPage) -> Page:
    return before_a_move(new_page(START, reduced_motion="reduce"))


@pytest.fixture
def calm_page(used_page: UsedPage) -> Page:
    """The same, where no calculator starts."""
    return before_a_move(used_page(START, reduced_motion="reduce"))


def before_a_move(page: Page) -> Page:
    page.evaluate("window.before = true")
    return page


def test_axe_finds_nothing_on_pages_that_were_moved_to(calm_page):
    page = calm_page
    found = {}
    for path in KINDS:
        move(page, path)
        ready(page)
        page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
        if wrong := faults(page, BUT_DEAR):  # a move colours nothing and sizes nothing
            found[path] = wrong
    assert found == {}


def test_keyboard_reaches_everything_on_pages_that_were_moved_to(calm_page):
    page = calm_page
    for path in KINDS:
        move(page, path)
        ready(page)
        count = page.evaluate(STOPS)
        assert count
        # The first is at the heading, where a move leaves the focus. The key is held: it repeats.
        for _ in range(count + 1):
            page.keyboard.down("Tab")
        page.keyboard.up("Tab")
        assert page.evaluate(MISSED) == [], path


STEPS = "procedures/burner_pressure.html"
PRACTICE = "practise/session.html"
KIND_SHEETS = """() => [...document.querySelectorAll('link[data-hb-kind-sheet]')]
    .map((each) => each.sheet && each.href.split('/').at(-1))"""
# The sheets that a kind of page has besides.
OF_ITS_KIND = {
    STEPS: [],
    RECORD: ["printed-record.css"],
    PRACTICE: ["questions.css", "practice.css"],
    "practise/papers.html": ["questions.css", "papers.css"],
    "practise/results.html": ["questions.css", "results.css"],
}


@pytest.mark.parametrize("there", [path for path in OF_ITS_KIND if path != STEPS])
def test_there_and_back_from_the_steps_nothing_is_started_anew(warm: Warm, there: str):
    # The Python of before is asked for when the page is given back.
    for path in (STEPS, there, STEPS, there):
        page = warm(path)
        expect(page.locator("main h1")).to_be_focused()
        assert page.evaluate(KIND_SHEETS) == OF_ITS_KIND[path]


def test_practice_that_was_left_begins_anew_on_the_way_back(warm: Warm):
    for _ in range(2):
        page = warm(STEPS)
        page = warm(PRACTICE)
        page.get_by_role("button", name="5 minutes").click()
        expect(page.locator("[data-hb-practice-stem]")).not_to_be_empty(timeout=START_MS)


def test_a_page_whose_sheet_does_not_come_is_loaded_by_the_browser(new_page: NewPage):
    page = before_a_move(new_page(START, python=False))
    page.route("**/printed-record.css", lambda route: route.abort("aborted"), times=1)
    with page.expect_navigation():
        page.locator(f'#hb-nav a[href$="{RECORD}"]').first.evaluate("link => link.click()")
    expect(page.locator("main h1")).to_have_text("The visit record")
    assert page.evaluate("window.before") is None
    assert page.evaluate(KIND_SHEETS) == ["printed-record.css"]


LOOK_MS = 50


class SlowStart:
    """A runtime whose files do not come until they are let go."""

    def __init__(self, page: Page) -> None:
        self.held: list[Route] = []
        self.over = False
        self.page = page
        page.route("**/runtime/**", self._hold)

    def _hold(self, route: Route) -> None:
        if self.over:
            route.continue_()
        else:
            self.held.append(route)

    def end(self) -> None:
        """The files come, and whatever is asked for after them."""
        # On a busy machine the worker is there some time before it asks for its files.
        for _ in range(PATIENCE_MS // LOOK_MS):
            if self.held:
                break
            self.page.wait_for_timeout(LOOK_MS)
        assert self.held, "nothing was asked for: the runtime was not starting"
        self.over = True
        for route in self.held:
            route.continue_()


@pytest.fixture
def starting(page: Page) -> tuple[CalculatorPage, SlowStart]:
    """A calculator that was moved to while the runtime starts."""
    slow = SlowStart(page)
    with page.expect_worker():
        move(page, "calculators/burner_pressure.html")
    shown = CalculatorPage(page, "burner_pressure")
    shown.expect_state("starting")
    return shown, slow


def test_asking_outright_during_the_start_shows_the_refusals_and_moves_to_them(starting):
    shown, slow = starting
    shown.submit()
    slow.end()
    shown.expect_state("refused")
    expect(shown.root.locator("[data-hb-summary]")).to_be_focused()


def test_an_emptied_form_that_was_asked_outright_is_still_refused(starting):
    shown, slow = starting
    shown.submit()
    shown.root.locator("[data-hb-units]").first.select_option(index=1)
    shown.expect_state("starting")
    slow.end()
    shown.expect_state("refused")
    expect(shown.root.locator("[data-hb-summary]")).to_be_visible()


def test_reader_who_types_on_keeps_the_focus_and_sees_the_refusals(starting):
    shown, slow = starting
    shown.submit()
    shown.control("plate_max").press_sequentially("12.5")
    slow.end()
    shown.expect_state("refused")
    expect(shown.root.locator("[data-hb-summary]")).to_be_visible()
    expect(shown.control("plate_max")).to_be_focused()


def test_cleared_during_the_start_is_ready_and_forgets_that_it_was_asked(starting):
    shown, slow = starting
    shown.submit()
    shown.press("data-hb-clear")
    shown.expect_state("starting")
    slow.end()
    shown.expect_state("ready")
    shown.control("plate_max").press_sequentially("12.5")
    shown.expect_state("refused")
    expect(shown.control("plate_max")).to_be_focused()
    expect(shown.root.locator("[data-hb-summary]")).to_be_hidden()
