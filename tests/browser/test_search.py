"""The search: our ranking in the theme's box, and what it says while it finds and finds nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.conftest import (
    LIGHTEST_PAGE,
    PATIENCE_MS,
    PHONE,
    Lent,
    LentPage,
    NewPage,
    UsedPage,
)
from tests.browser.search_box import HITS

PROCEDURE = "procedures/before_you_start.html"  # the lightest
STOP = ".hb-found-stop"
LOOK_MS = 20


@pytest.fixture
def procedure(used_page: UsedPage) -> Page:
    return used_page(PROCEDURE, reduced_motion="reduce")


class SearchPage(LentPage):
    """A light page whose search has started: it stays open from one test to the next."""

    def __init__(self, browser: Browser, address: str) -> None:
        super().__init__(browser, address)
        self.page.goto(address + LIGHTEST_PAGE)

    def wipe(self) -> None:
        """Ask for nothing and have found nothing; come back where a test followed what it found."""
        assert self.context.pages == [self.page]
        if self.page.url != self.address + LIGHTEST_PAGE:
            self.page.goto(self.address + LIGHTEST_PAGE)
        self.page.get_by_role("searchbox").fill("")
        expect(self.page.locator(HITS)).to_have_count(0)


@pytest.fixture(scope="module")
def search_pages(browser: Browser, without_python: str) -> Iterator[Lent[SearchPage]]:
    pages = Lent(lambda: SearchPage(browser, without_python))
    yield pages
    pages.give_up()


@pytest.fixture
def light_page(search_pages: Lent[SearchPage], request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page with little on it but the frame."""
    for here in search_pages.to_test(request.session):
        yield here.page


def test_search_knows_the_trades_words_and_the_everyday_ones(light_page):
    for asked in ("burner pressure", "manifold pressure", "setting pressure"):
        light_page.get_by_role("searchbox").fill(asked)
        pages = light_page.locator(".md-search-result__item")
        expect(pages.filter(has_text="urner pressure").first).to_be_visible()
        expect(light_page.get_by_role("search").get_by_role("status")).to_have_text(
            f"{pages.count()} found. The likeliest first."
        )


# What is done comes before lists of figures and sources.
WANTED = {
    "gas leak test": "Test the pipework for tightness",
    "chimney": "Check an open flue",
    "boiler pressure": "Set up the heating circuit",
    "carbon monoxide": "Deal with an unsafe situation",
    "smell of gas": "Deal with an unsafe situation",
    "combustoin": "Check the combustion",
    "purg": "Purge the pipework",
}
# Who revises says so in many ways.
REVISED = {
    "quiz": "Practise",
    "test me": "Practise",
    "mock": "Practise",
    "revision": "Recap of each procedure",
    "cheat sheet": "Recap of each procedure",
    "mistakes": "Common mistakes",
    "class results": "How a class did",
    "students' answers": "How a class did",
    "weak topics": "How a class did",
}


def test_search_puts_what_is_done_among_the_first_three(light_page):
    for asked, wanted in WANTED.items():
        light_page.get_by_role("searchbox").fill(asked)
        first = light_page.locator(f"li:nth-child(-n+3 of :not(:has({STOP}))) h1")
        title = re.compile(rf"^\s*Procedure {wanted}$")
        expect(first.filter(has_text=title), asked).to_be_visible()


def test_everyday_words_lead_to_questions_the_recap_and_the_mistakes(light_page):
    for asked, wanted in REVISED.items():
        light_page.get_by_role("searchbox").fill(asked)
        first = light_page.locator("li:nth-child(-n+3) h1")
        title = re.compile(rf"^\s*(Practice|Revision|Class results) {wanted}$")
        expect(first.filter(has_text=title), asked).to_be_visible()


def test_search_leads_by_keyboard_to_the_place_on_the_page(procedure):
    procedure.get_by_role("searchbox").fill("zero the gauge with its tube open")
    place = procedure.locator(f'{HITS}[href*="burner_pressure.html#step-zero-gauge"]')
    expect(place).to_be_visible()
    for _ in range(20):
        procedure.keyboard.press("ArrowDown")
        if place.evaluate("link => link === document.activeElement"):
            break
    procedure.keyboard.press("Enter")
    expect(procedure.locator("#step-zero-gauge")).to_be_in_viewport()
    expect(procedure.locator(HITS).first).to_be_hidden()


def test_enter_in_the_search_leads_to_the_likeliest_place(light_page):
    light_page.get_by_role("searchbox").fill("purg")
    expect(light_page.locator(f"{HITS} h1").first).to_have_text("Procedure Purge the pipework")
    light_page.get_by_role("searchbox").press("Enter")
    expect(light_page.get_by_role("heading", level=1)).to_have_text("Purge the pipework")
    expect(light_page.get_by_role("searchbox")).to_have_value("")


def test_on_a_phone_the_search_opens_over_the_page_and_goes_back(used_page: UsedPage):
    page = used_page(PROCEDURE, viewport=PHONE)
    button = page.get_by_role("button", name="Search")
    expect(page.get_by_role("searchbox")).to_be_hidden()
    button.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("searchbox")).to_be_focused()
    page.get_by_role("search").get_by_role("button", name="Close").click()
    expect(page.get_by_role("searchbox")).to_be_hidden()
    expect(button).to_be_focused()


def test_a_letter_on_its_own_does_nothing(procedure):
    """Who dictates says words: none of their letters may open a search or turn a page."""
    procedure.get_by_role("searchbox").focus()
    procedure.wait_for_function("window.component$ !== undefined")
    procedure.keyboard.press("Escape")
    address = procedure.url
    procedure.locator("h1").click()
    for key in ("f", "s", "/", "p", "n", ",", "."):
        procedure.keyboard.press(key)
    assert procedure.evaluate("document.activeElement.matches('input')") is False
    assert procedure.url == address


def test_search_says_when_it_finds_nothing(light_page):
    light_page.get_by_role("searchbox").fill("xyzzyplugh")
    expect(light_page.get_by_text("Nothing found. Try another word.")).to_be_visible()


# What a reader types, and the steps that are told before all that was found.
SYMPTOMS = {
    "CO alarm": ["fumes-off"],
    "flame lifts": ["fumes-off"],
    "she feels sick, alarm sounding": ["fumes-off", "help-people"],
    "tingling in a pipe": ["pipework-live"],
    "smell of gas in the loft": ["gas-escape"],
}


def test_a_symptom_of_danger_is_answered_by_the_stop_before_all_else(light_page):
    hits = light_page.locator(HITS)
    for asked, steps in SYMPTOMS.items():
        light_page.get_by_role("searchbox").fill(asked)
        stops = light_page.locator(f"{HITS}:has({STOP})")
        expect(stops, asked).to_have_count(len(steps))
        for place, step in enumerate(steps):
            expect(hits.nth(place)).to_have_attribute("href", re.compile(f"#step-{step}$"))
            expect(hits.nth(place).locator(STOP)).to_contain_text("stop, and")
    # What to do first stands in the hit itself, and Enter leads there.
    expect(stops.locator("small")).to_contain_text("Turn off the gas at the emergency control")
    light_page.get_by_role("searchbox").press("Enter")
    expect(light_page.locator("#step-gas-escape")).to_be_in_viewport()


def test_a_word_that_is_no_symptom_brings_no_stop(light_page):
    for asked in ("gas rate", "fill", "small", "spillage test", "gas fired", "hearth"):
        light_page.get_by_role("searchbox").fill(asked)
        expect(light_page.locator(HITS).first).to_be_visible()
        expect(light_page.locator(STOP)).to_have_count(0)


def test_each_page_that_is_found_says_what_kind_it_is(light_page):
    light_page.get_by_role("searchbox").fill("gas rate")
    for title, kind in (("Check the gas rate", "Procedure"), ("Gas rate", "Calculator")):
        hit = light_page.locator(f"{HITS} h1", has_text=f"{kind} {title}")
        expect(hit.first.locator("small")).to_have_text(kind)


def test_a_search_that_loads_or_can_not_load_says_so(new_page: NewPage):
    page = new_page("reference/changes.html", python=False)
    field, said = page.get_by_role("searchbox"), page.get_by_role("search").get_by_role("status")
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route(re.compile(r"/(bundle\.\w+\.min|search_index)\.js$"), hold)
    field.focus()
    script = asked_for(page, held)
    expect(said).to_have_text("The search is loading.")
    page.evaluate(FAIL)
    expect(said).to_have_text("The search did not load. Load the page again.")
    script.continue_()
    expect(said).to_contain_text("Type a word")

    page.reload()
    field.focus()
    asked_for(page, held).continue_()
    expect(said).to_contain_text("Type a word")
    field.fill("flue")
    words = asked_for(page, held)
    expect(said).to_have_text("The search is loading.")
    words.continue_()
    expect(said).to_contain_text("found. The likeliest first.")


def asked_for(page: Page, held: list[Route]) -> Route:
    """What the page waits for."""
    for _ in range(PATIENCE_MS // LOOK_MS):
        if held:
            return held.pop()
        page.wait_for_timeout(LOOK_MS)
    raise AssertionError("Nothing was asked for.")


# As where the device has lost its network. (A file that fails would be a fault of the page.)
FAIL = "document.querySelector('script[src*=bundle]').dispatchEvent(new Event('error'))"
