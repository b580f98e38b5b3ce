"""The header: what it has room for, by keyboard, and in the colours that a device forces."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import UsedPage

ROW_PX = 60  # the height of one row of buttons
LONGEST_WALK = 12
# At which width what stands there, in the order in which Tab stops at it.
STOPS = {
    390: ["Gas commissioning handbook", "Search", "Menu"],
    810: ["Gas commissioning handbook", "Search the handbook", "Display", "Menu"],
    1280: ["Gas commissioning handbook", "Search the handbook", "Display"],
}
# The name that is read out, of what has the focus in the header; empty elsewhere.
FOCUSED = """() => {
    const here = document.activeElement;
    if (!here.closest('.md-header')) return '';
    const label = here.labels?.[0]?.querySelector('span')?.textContent;
    return (here.getAttribute('aria-label') ?? label ?? here.textContent).trim();
}"""
LINES = """element => Math.round(
    element.getBoundingClientRect().height / parseFloat(getComputedStyle(element).lineHeight))"""
# How much wider than its field the placeholder is.
CUT = """field => {
    const pen = document.createElement('canvas').getContext('2d');
    const {font, paddingLeft, paddingRight} = getComputedStyle(field);
    pen.font = font;
    return pen.measureText(field.placeholder).width
        - (field.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight));
}"""


def walked(page: Page) -> list[str]:
    """What Tab stops at from the first link of the page to the end of the header."""
    page.get_by_role("link", name="Skip to the page").focus()
    found = []
    for _ in range(LONGEST_WALK):
        page.keyboard.press("Tab")
        here = page.evaluate(FOCUSED)
        if not here:
            break
        found.append(here)
    return found


@pytest.mark.parametrize("width", STOPS)
def test_header_is_one_row_and_the_keyboard_walks_it_in_order(used_page: UsedPage, width: int):
    page = used_page("index.html", viewport={"width": width, "height": 844})
    header = page.get_by_role("banner")
    assert header.evaluate("header => header.offsetHeight") <= ROW_PX
    assert page.locator(".md-header__title").evaluate(LINES) <= 2
    assert walked(page) == STOPS[width]
    field = page.locator("#hb-query")
    if width == 390:  # reached by its button alone
        expect(field).to_be_hidden()
        expect(header.get_by_role("button", name="Search")).to_be_visible()
        page.get_by_role("button", name="Menu").click()
        danger = page.locator(".hb-nav__stop a")
    else:
        assert field.evaluate(CUT) <= 0
        danger = page.locator(".hb-nav__stop a") if width == 1280 else None
    if danger:
        assert danger.evaluate(ONE_LINE)


# Whether the words of an element stand in one line.
ONE_LINE = """element => {
    const words = document.createRange();
    words.selectNodeContents(element);
    return new Set([...words.getClientRects()].map(({top}) => Math.round(top))).size === 1;
}"""


def test_a_page_without_contents_has_no_empty_column_for_them(used_page: UsedPage):
    page = used_page("index.html", viewport={"width": 1280, "height": 800})
    expect(page.locator("#hb-toc")).to_be_hidden()
    main, row = page.locator("#hb-main"), page.locator(".md-main__inner")
    ends = [each.evaluate("e => e.getBoundingClientRect().right") for each in (main, row)]
    edge = row.evaluate("e => parseFloat(getComputedStyle(e).paddingRight)")
    assert ends[0] == pytest.approx(ends[1] - edge, abs=1)
    body = page.locator(".hb-page__body").evaluate("e => e.getBoundingClientRect().right")
    assert body == pytest.approx(ends[0], abs=1)


# In colours that are the device's own, a thing shows by its edge, and no edge may be the paper's.
EDGES = """(selectors) => selectors.filter((selector) => {
    const element = document.querySelector(selector);
    const {borderInlineStartColor: colour, borderInlineStartWidth: width} =
        getComputedStyle(element);
    return parseFloat(width) < 1 || colour === getComputedStyle(document.body).backgroundColor;
})"""
SHAPES = """() => [...document.querySelectorAll('.hb-provenance, .hb-task__readings > li')]
    .map((element) => getComputedStyle(element, '::before').backgroundColor)"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_everything_shows_in_colours_that_the_device_forces(used_page: UsedPage, scheme: str):
    page = used_page("procedures/burner_pressure.html", forced_colors="active", color_scheme=scheme)
    # The reader's own choice of a display is none then: the device's colours count.
    page.get_by_label("Display").first.select_option("Dark" if scheme == "light" else "Light")
    page.get_by_role("button", name="Menu").press("Enter")
    edges = ("#hb-nav [aria-current]", "[data-hb-menu-close]", ".hb-nav__stop a")
    assert page.evaluate(EDGES, edges) == []
    here = page.locator("#hb-nav [aria-current]")
    assert here.evaluate("link => getComputedStyle(link).outlineStyle") == "solid"
    page.keyboard.press("Escape")
    edges = (".md-search__input", ".hb-button", ".hb-warning--stop", ".hb-display select")
    assert page.evaluate(EDGES, edges) == []
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    shapes = page.evaluate(SHAPES)
    assert shapes
    assert paper not in shapes
