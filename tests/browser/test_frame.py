"""What stands round the pages: menu, display, search, ticks, and moves without a reload."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.calculator_page import START_MS, CalculatorPage
from tests.browser.conftest import STORAGE_FULL, NewPage, UsedPage
from tests.browser.test_pages import faults

PROCEDURE = "procedures/burner_pressure.html"


@pytest.fixture
def procedure(used_page: UsedPage) -> Page:
    return used_page(PROCEDURE, reduced_motion="reduce")


def test_menu_opens_in_place_and_escape_shuts_it(procedure):
    menu, pages = procedure.get_by_role("button", name="Menu"), procedure.locator("#hb-nav")
    expect(pages).to_be_hidden()
    menu.focus()
    procedure.keyboard.press("Space")
    expect(menu).to_have_attribute("aria-expanded", "true")
    expect(pages.get_by_role("link", name="Set the burner pressure")).to_have_attribute(
        "aria-current", "page"
    )
    procedure.keyboard.press("Escape")
    expect(pages).to_be_hidden()
    expect(menu).to_be_focused()


def test_menu_without_script_leads_to_the_list(new_page: NewPage):
    page = new_page(PROCEDURE, java_script_enabled=False)
    page.get_by_role("link", name="Menu").click()
    expect(page.locator("#hb-nav")).to_be_visible()
    expect(page.locator("[data-hb-search]")).to_be_hidden()


def test_keyboard_skips_to_the_page(procedure):
    procedure.keyboard.press("Tab")
    skip = procedure.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    procedure.keyboard.press("Enter")
    expect(procedure.locator("main")).to_be_focused()


def test_chosen_display_stays_and_is_there_before_the_page_is_painted(new_page: NewPage):
    procedure = new_page(PROCEDURE, python=False)
    procedure.get_by_label("Display").select_option("Sunlight")
    expect(procedure.locator("html")).to_have_attribute("data-hb-scheme", "sun")
    procedure.add_init_script(
        "addEventListener('DOMContentLoaded', () => {"
        "window.early = document.documentElement.dataset.hbScheme })"
    )
    procedure.reload()
    assert procedure.evaluate("window.early") == "sun"
    expect(procedure.get_by_label("Display")).to_have_value("sun")
    procedure.get_by_label("Display").select_option("Automatic")
    procedure.reload()
    assert procedure.locator("html").get_attribute("data-hb-scheme") is None


def test_a_choice_of_display_that_is_not_kept_is_told_once_beside_it(new_page: NewPage):
    procedure = new_page(
        PROCEDURE, python=False, before=lambda page: page.add_init_script(STORAGE_FULL)
    )
    told = procedure.locator("[data-hb-not-kept]")
    expect(told).to_have_count(0)
    for display, scheme in (("Sunlight", "sun"), ("Dark", "dark")):
        procedure.get_by_label("Display").select_option(display)
        expect(procedure.locator("html")).to_have_attribute("data-hb-scheme", scheme)
        expect(told).to_have_count(1)
        expect(told).to_be_in_viewport()
        expect(told).to_contain_text("Not kept: this browser has no room, or blocks storage.")
    assert faults(procedure) == []
    # The device's own display is what is there with nothing kept.
    procedure.get_by_label("Display").select_option("Automatic")
    expect(told).to_have_count(0)


COLOURS = """() => {
    const style = getComputedStyle(document.documentElement);
    const names = ['ink', 'paper', 'panel', 'stop', 'stop-paper', 'plate', 'drawing-gas', 'stroke'];
    return Object.fromEntries(
        names.map((name) => [name, style.getPropertyValue(`--hb-${name}`).trim()]));
}"""


def test_display_of_the_device_and_of_the_reader_are_the_same(procedure):
    shown = {}
    for display, device in (
        ("Light", {"color_scheme": "light", "contrast": "no-preference"}),
        ("Sunlight", {"color_scheme": "light", "contrast": "more"}),
        ("Dark", {"color_scheme": "dark", "contrast": "no-preference"}),
    ):
        procedure.get_by_label("Display").select_option("Automatic")
        procedure.emulate_media(**device)
        shown[display] = procedure.evaluate(COLOURS)
        # The reader's choice goes before the device's wish.
        opposite = {"color_scheme": "light" if display == "Dark" else "dark", "contrast": "more"}
        procedure.emulate_media(**opposite)
        procedure.get_by_label("Display").select_option(display)
        assert procedure.evaluate(COLOURS) == shown[display]
    assert all(all(colours.values()) for colours in shown.values())
    papers = {name: colours["paper"] for name, colours in shown.items()}
    assert papers == {"Light": "#fdfcf9", "Sunlight": "#fff", "Dark": "#11191e"}


def test_axe_finds_nothing_in_sunlight(used_page: UsedPage):
    page = used_page(PROCEDURE)
    page.get_by_label("Display").select_option("Sunlight")
    assert faults(page) == []


@pytest.fixture
def light_page(used_page: UsedPage) -> Page:
    """A page with little on it but the frame."""
    return used_page("reference/changes.html")


@pytest.mark.parametrize("asked", ["burner pressure", "manifold pressure", "setting pressure"])
def test_search_knows_the_trades_words_and_the_everyday_ones(light_page, asked):
    light_page.get_by_role("searchbox").fill(asked)
    hits = light_page.locator("[data-hb-search-list] a")
    expect(hits.filter(has_text="urner pressure").first).to_be_visible()
    expect(light_page.locator("[data-hb-search-status]")).to_have_text(
        f"{hits.count()} places found."
    )


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        ("gas leak test", "Test the pipework for tightness"),
        ("chimney", "Check an open flue"),
        ("boiler pressure", "Set up the heating circuit"),
        ("carbon monoxide", "Deal with an unsafe situation"),
        ("smell of gas", "Deal with an unsafe situation"),
        ("combustoin", "Check the combustion"),
        ("purg", "Purge the pipework"),
    ],
)
def test_search_puts_what_is_done_before_lists_of_figures_and_sources(light_page, asked, wanted):
    light_page.get_by_role("searchbox").fill(asked)
    first = light_page.locator("[data-hb-search-list] li:nth-child(-n+3) .hb-search__title")
    expect(first.get_by_text(wanted, exact=True)).to_be_visible()


def test_search_leads_by_keyboard_to_the_place_on_the_page(procedure):
    procedure.get_by_role("searchbox").fill("zero the gauge with its tube open")
    expect(procedure.locator("[data-hb-search-list] a").first).to_be_visible()
    procedure.keyboard.press("ArrowDown")
    procedure.keyboard.press("Enter")
    expect(procedure.locator("#step-zero-gauge")).to_be_in_viewport()
    expect(procedure.locator("[data-hb-search-list]")).to_be_hidden()


def test_search_says_when_it_finds_nothing(light_page):
    light_page.get_by_role("searchbox").fill("xyzzyplugh")
    expect(light_page.get_by_text("Nothing found. Try another word.")).to_be_visible()


def test_ticks_stay_and_are_cleared_on_request(procedure):
    procedure.get_by_label("Done: step 1", exact=True).check()
    procedure.get_by_label("Done: step 2", exact=True).check()
    procedure.reload()
    expect(procedure.get_by_label("Done: step 2", exact=True)).to_be_checked()
    expect(procedure.get_by_label("Done: step 3", exact=True)).not_to_be_checked()
    expect(procedure.locator("[data-hb-ticks]")).to_contain_text("2 of ")
    procedure.get_by_role("button", name="Clear the ticks").click()
    procedure.reload()
    expect(procedure.get_by_label("Done: step 1", exact=True)).not_to_be_checked()


def test_calculator_comes_to_the_step_with_what_was_typed(procedure):
    gas_rate = CalculatorPage(procedure, "gas_rate")
    gas_rate.enter(volume="0.09")
    link = procedure.locator('[data-hb-move-calculator="gas-rate-fold"]').first
    step = link.locator("xpath=ancestor::li[1]").get_attribute("id")
    link.click()
    here = procedure.locator(f"#{step} hb-calculator")
    expect(here.locator('[name="volume"]')).to_have_value("0.09")
    expect(procedure.locator("hb-calculator[calculator=gas_rate]")).to_have_count(1)
    expect(procedure.locator('[data-hb-move-calculator="gas-rate-fold"]')).to_contain_text(
        "Work it out"
    )


def test_moving_keeps_the_worker_and_tells_the_reader_where_they_are(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    CalculatorPage(page, "gas_rate").enter(volume="0.09", elapsed="121")
    expect(page.locator("[data-state=answered]")).to_be_visible(timeout=START_MS)
    worker = page.workers[0]
    page.get_by_role("button", name="Menu").click()
    page.locator("#hb-nav").get_by_role("link", name="Working pressure", exact=True).click()
    expect(page).to_have_title("Working pressure · Gas commissioning handbook")
    expect(page.get_by_role("heading", level=1)).to_be_focused()
    expect(page.locator("#hb-nav")).to_be_hidden()
    assert page.workers == [worker]
    assert page.locator("main noscript").count() == 0


def test_a_link_in_the_frame_leads_right_from_every_page(used_page: UsedPage):
    page = used_page("index.html")
    page.get_by_role("link", name="set the burner pressure Procedure").click()
    expect(page).to_have_title("Set the burner pressure · Gas commissioning handbook")
    page.get_by_role("contentinfo").get_by_role("link", name="Sources").click()
    expect(page).to_have_title("Sources · Gas commissioning handbook")
    page.get_by_role("banner").get_by_role("link").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Gas commissioning handbook")


def test_back_returns_to_the_place_where_the_reader_was(procedure):
    procedure.locator("#step-zero-gauge").scroll_into_view_if_needed()
    was = procedure.evaluate("scrollY")
    procedure.evaluate("document.querySelector('main a[href$=\"sources.html\"], footer a').click()")
    expect(procedure).to_have_title("Sources · Gas commissioning handbook")
    assert procedure.evaluate("scrollY") == 0
    procedure.go_back()
    expect(procedure).to_have_title("Set the burner pressure · Gas commissioning handbook")
    assert procedure.evaluate("scrollY") == pytest.approx(was, abs=2)


def test_a_page_of_another_edition_is_loaded_whole(used_page: UsedPage):
    page = used_page("index.html")
    page.evaluate("window.before = true")
    page.evaluate("document.querySelector('meta[name=hb-edition]').content = 'older'")
    page.get_by_role("link", name="set the burner pressure Procedure").click()
    expect(page).to_have_title("Set the burner pressure · Gas commissioning handbook")
    assert page.evaluate("window.before === undefined")


def test_everything_in_the_frame_is_large_enough_to_touch(used_page: UsedPage):
    page = used_page(PROCEDURE, viewport={"width": 390, "height": 844})
    page.get_by_role("button", name="Menu").click()
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            'header :is(a, input, label, select), #hb-nav a, summary, .hb-tick, .hb-button')]
            .filter((element) => element.offsetParent && element.offsetHeight < 44
                && !element.matches('.hb-unseen'))
            .map((element) => element.outerHTML.slice(0, 120))"""
    )
    assert small == []
