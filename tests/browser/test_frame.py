"""What stands round the pages: menu, display, ticks, and moves without a reload."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import COLOURS, DISPLAYS, EVERY_RULE, faults, show
from tests.browser.calculator_page import START_MS, CalculatorPage
from tests.browser.conftest import PHONE, STORAGE_FULL, NewPage, UsedPage, calculators
from tests.browser.search_box import HITS, opened_search

PROCEDURE = "procedures/before_you_start.html"  # the lightest: what is looked at is the frame
WITH_CALCULATORS = "procedures/burner_pressure.html"
MANY_STOPS = 80  # more than the menu has, so that Tab runs out of it


@pytest.fixture
def procedure(used_page: UsedPage) -> Page:
    return used_page(PROCEDURE, reduced_motion="reduce")


def test_the_menu_opens_and_shuts_by_keyboard(procedure):
    menu, pages = procedure.get_by_role("button", name="Menu"), procedure.locator("#hb-nav")
    expect(pages).to_be_hidden()
    menu.focus()
    procedure.keyboard.press("Space")
    expect(menu).to_have_attribute("aria-expanded", "true")
    here = pages.get_by_role("link", name="Before you start")
    expect(here).to_have_attribute("aria-current", "page")
    expect(here).to_be_focused()
    # Nothing that lies behind it takes the focus.
    inside = "document.activeElement.matches('body, #hb-nav *')"
    for _ in range(MANY_STOPS):
        procedure.keyboard.press("Tab")
        assert procedure.evaluate(inside)
    here.focus()
    procedure.keyboard.press("Escape")
    expect(pages).to_be_hidden()
    expect(menu).to_be_focused()


def test_the_menu_shuts_by_its_button_and_by_what_lies_beside_it(procedure):
    menu, pages = procedure.get_by_role("button", name="Menu"), procedure.locator("#hb-nav")
    menu.click()
    pages.get_by_role("link", name="Close").click()
    expect(pages).to_be_hidden()
    expect(menu).to_be_focused()
    menu.click()
    procedure.mouse.click(780, 500)
    expect(pages).to_be_hidden()
    expect(procedure.locator("#hb-main")).not_to_have_attribute("inert", "")


def test_the_menu_begins_with_what_to_do_in_danger(procedure):
    procedure.get_by_role("button", name="Menu").click()
    procedure.locator("#hb-nav").get_by_role("link", name="Gas, CO or illness").click()
    expect(procedure.get_by_role("heading", level=1)).to_have_text("Deal with an unsafe situation")
    expect(procedure.locator("#hb-nav")).to_be_hidden()


def test_menu_without_script_leads_to_the_list(new_page: NewPage):
    page = new_page(PROCEDURE, java_script_enabled=False)
    expect(page.locator("#hb-nav")).to_be_hidden()
    page.get_by_role("link", name="Menu").click()
    expect(page.locator("#hb-nav")).to_be_visible()
    for part in (page.get_by_role("searchbox"), page.locator("[data-hb-display]").first):
        expect(part).to_be_hidden()
    page.locator("#hb-nav").get_by_role("link", name="Close").click()
    expect(page.locator("#hb-nav")).to_be_hidden()


def test_without_script_the_device_says_light_or_dark(new_page: NewPage):
    grounds = {}
    for scheme in ("light", "dark"):
        page = new_page(PROCEDURE, java_script_enabled=False, color_scheme=scheme)
        grounds[scheme] = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert grounds == {"light": "rgb(253, 252, 249)", "dark": "rgb(17, 25, 30)"}


def test_keyboard_skips_to_the_page(procedure):
    procedure.keyboard.press("Tab")
    skip = procedure.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    procedure.keyboard.press("Enter")
    expect(procedure.locator("#hb-main")).to_be_focused()


SCHEME = "document.body.dataset.mdColorScheme"


def test_chosen_display_stays_and_is_there_before_the_page_is_painted(new_page: NewPage):
    procedure = new_page(PROCEDURE, python=False)
    display = procedure.get_by_label("Display").first
    display.select_option("Sunlight")
    expect(procedure.locator("body")).to_have_attribute("data-md-color-scheme", "sunlight")
    procedure.add_init_script(
        f"addEventListener('DOMContentLoaded', () => {{ window.early = {SCHEME} }})"
    )
    procedure.reload()
    assert procedure.evaluate("window.early") == "sunlight"
    expect(display).to_have_value("2")
    display.select_option("Automatic")
    expect(procedure.locator("body")).to_have_attribute("data-md-color-scheme", "default")
    procedure.reload()
    assert procedure.evaluate("window.early") == "default"
    expect(display).to_have_value("0")


def test_on_a_phone_the_display_stands_at_the_foot_of_the_menu(used_page: UsedPage):
    page = used_page(PROCEDURE, viewport=PHONE)
    expect(page.locator(".hb-display--header")).to_be_hidden()
    page.get_by_role("button", name="Menu").click()
    page.locator("#hb-nav").get_by_label("Display").select_option("Dark")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")


def test_a_device_that_keeps_nothing_still_searches_and_changes_its_display(new_page: NewPage):
    """The theme's own scripts ask the device what it keeps, and would stop where it refuses."""
    refuse = """for (const name of ['localStorage', 'sessionStorage']) {
        const get = () => { throw new DOMException('Denied', 'SecurityError'); };
        Object.defineProperty(window, name, {get});
    }"""
    page = new_page(PROCEDURE, python=False, before=lambda page: page.add_init_script(refuse))
    page.get_by_label("Display").first.select_option("Dark")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    page.get_by_role("searchbox").fill("flue")
    expect(page.locator(HITS).first).to_be_visible()


def test_a_choice_of_display_that_is_not_kept_is_told_once_beside_it(new_page: NewPage):
    procedure = new_page(
        PROCEDURE, python=False, before=lambda page: page.add_init_script(STORAGE_FULL)
    )
    told = procedure.locator("[data-hb-not-kept]")
    expect(told).to_have_count(0)
    for display, scheme in (("Sunlight", "sunlight"), ("Dark", "slate")):
        procedure.get_by_label("Display").first.select_option(display)
        expect(procedure.locator("body")).to_have_attribute("data-md-color-scheme", scheme)
        expect(told).to_have_count(1)
        expect(told).to_be_in_viewport()
        expect(told).to_contain_text("Not kept: this browser has no room, or blocks storage.")
    assert told.evaluate("told => told.closest('header') !== null")
    assert faults(procedure, within="header") == []
    # The device's own display is what is there with nothing kept.
    procedure.get_by_label("Display").first.select_option("Automatic")
    expect(told).to_have_count(0)


NAMED = """() => {
    const style = getComputedStyle(document.body);
    const names = ['ink', 'paper', 'panel', 'stop', 'stop-paper', 'plate', 'drawing-gas', 'stroke'];
    return Object.fromEntries(
        names.map((name) => [name, style.getPropertyValue(`--hb-${name}`).trim()]));
}"""


def test_display_of_the_device_and_of_the_reader_are_the_same(procedure):
    body, display = procedure.locator("body"), procedure.get_by_label("Display").first
    shown = {}
    for name, scheme, device in (
        ("Light", "default", {"color_scheme": "light", "contrast": "no-preference"}),
        ("Sunlight", "sunlight", {"color_scheme": "light", "contrast": "more"}),
        ("Dark", "slate", {"color_scheme": "dark", "contrast": "no-preference"}),
    ):
        procedure.emulate_media(**device)
        display.select_option("Automatic")
        expect(body).to_have_attribute("data-md-color-media", "(prefers-color-scheme)")
        shown[name] = procedure.evaluate(NAMED)
        # The reader's choice goes before the device's wish.
        opposite = {"color_scheme": "light" if name == "Dark" else "dark", "contrast": "more"}
        procedure.emulate_media(**opposite)
        display.select_option(name)
        expect(body).to_have_attribute("data-md-color-scheme", scheme)
        assert procedure.evaluate(NAMED) == shown[name]
    assert all(all(colours.values()) for colours in shown.values())
    papers = {name: colours["paper"] for name, colours in shown.items()}
    assert papers == {"Light": "#fdfcf9", "Sunlight": "#fff", "Dark": "#11191e"}


def test_a_page_follows_its_device_into_the_dark_and_fetches_nothing_for_it(procedure):
    body = procedure.locator("body")
    for device, scheme in (("dark", "slate"), ("light", "default"), ("dark", "slate")):
        procedure.emulate_media(color_scheme=device)
        expect(body).to_have_attribute("data-md-color-scheme", scheme)
    assert procedure.evaluate("window.document$ === undefined")  # the theme's script
    # What the reader has chosen stays.
    procedure.get_by_label("Display").first.select_option("Sunlight")
    expect(body).to_have_attribute("data-md-color-scheme", "sunlight")
    procedure.emulate_media(color_scheme="light")
    assert procedure.evaluate(NEXT_FRAME) == "sunlight"


NEXT_FRAME = """new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(
    () => done(document.body.dataset.mdColorScheme))))"""


@pytest.mark.parametrize("width", [390, 810, 1280])
def test_axe_finds_nothing_in_the_open_menu_and_the_open_search(used_page: UsedPage, width: int):
    page = used_page("reference/changes.html", viewport={"width": width, "height": 844})
    menu, found = page.get_by_role("button", name="Menu"), {}
    for display in DISPLAYS:
        show(page, display)
        rules = EVERY_RULE if display == "light" else COLOURS  # it changes nothing else
        if menu.is_visible():
            menu.click()
            expect(page.locator("#hb-nav")).to_be_visible()
        found["menu", display] = faults(page, rules, within="#hb-nav")
        page.keyboard.press("Escape")
        opened_search(page).fill("flame lifts")
        expect(page.locator(HITS).first).to_be_visible()
        found["search", display] = faults(page, rules, within="header")
        page.keyboard.press("Escape")
    assert found == {part: [] for part in found}


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


def test_calculator_comes_to_the_step_with_what_was_typed(used_page: UsedPage):
    procedure = used_page(WITH_CALCULATORS)
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
    before = calculators(page)
    assert len(before) == 1
    page.get_by_role("button", name="Menu").click()
    page.locator("#hb-nav").get_by_role("link", name="Working pressure", exact=True).click()
    expect(page).to_have_title("Working pressure · Gas commissioning handbook")
    expect(page.get_by_role("heading", level=1)).to_be_focused()
    expect(page.locator("#hb-nav")).to_be_hidden()
    assert calculators(page) == before
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
    procedure.locator("#step-isolate-points").scroll_into_view_if_needed()
    was = procedure.evaluate("scrollY")
    procedure.evaluate("document.querySelector('footer a[href$=\"sources.html\"]').click()")
    expect(procedure).to_have_title("Sources · Gas commissioning handbook")
    assert procedure.evaluate("scrollY") == 0
    procedure.go_back()
    expect(procedure).to_have_title("Before you start · Gas commissioning handbook")
    assert procedure.evaluate("scrollY") == pytest.approx(was, abs=2)


def test_a_page_of_another_edition_is_loaded_whole(used_page: UsedPage):
    page = used_page("index.html")
    page.evaluate("window.before = true")
    page.evaluate("document.querySelector('meta[name=hb-edition]').content = 'older'")
    page.get_by_role("link", name="set the burner pressure Procedure").click()
    expect(page).to_have_title("Set the burner pressure · Gas commissioning handbook")
    assert page.evaluate("window.before === undefined")


def test_everything_in_the_frame_is_large_enough_to_touch(used_page: UsedPage):
    page = used_page(WITH_CALCULATORS, viewport=PHONE)
    page.get_by_role("button", name="Menu").click()
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            'header :is(a, input, label, select), #hb-nav a, summary, .hb-tick, .hb-button')]
            .filter((element) => element.offsetParent && element.offsetHeight < 44
                && !element.matches('.hb-unseen'))
            .map((element) => element.outerHTML.slice(0, 120))"""
    )
    assert small == []
