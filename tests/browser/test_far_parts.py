"""What lies far down a page that opens at its top comes later, and nothing of it is missed."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, calculators

PAGE = "procedures/gas_rate.html"
FRESH = "html.hb-fresh"
LAST = "#related"
# How much is left out now: what is shown, but not drawn while it is far away.
SKIPPED = """() => [...document.querySelectorAll('.hb-page__body *')].filter((each) =>
    each.checkVisibility() && !each.checkVisibility({contentVisibilityAuto: true})).length"""
# As a reader does who searches on: the title stands in the list of contents too.
FIND = """place => {
    const there = document.querySelector(place);
    const words = there.querySelector('h2').textContent;
    for (let at = 0; at < 5 && window.find(words); at += 1)
        if (there.contains(getSelection().anchorNode)) return true;
    return false;
}"""
NO_FRAME = "window.requestAnimationFrame = () => 0;"


@pytest.fixture
def fresh(new_page: NewPage) -> Page:
    """A page that never rests, so that it stays as it opened."""
    never = "window.requestIdleCallback = () => 0"
    page = new_page(PAGE, python=False, fresh=True, before=lambda it: it.add_init_script(never))
    expect(page.locator(FRESH)).to_be_attached()
    assert page.evaluate(SKIPPED) > 0
    return page


def test_all_is_drawn_once_the_page_rests(new_page: NewPage):
    page = new_page(PAGE, python=False, fresh=True)
    expect(page.locator(FRESH)).not_to_be_attached()
    assert page.evaluate(SKIPPED) == 0
    assert page.locator("[style*=visibility]").count() == 0


def test_a_search_in_the_page_finds_what_is_far_down(fresh: Page):
    assert fresh.evaluate(FIND, LAST)
    expect(fresh.locator(LAST)).to_be_in_viewport()


def test_a_jump_lands_where_it_leads(fresh: Page):
    fresh.locator("[data-hb-contents] summary").click()
    fresh.locator(f"[data-hb-contents] a[href='{LAST}']").click()
    expect(fresh.locator(FRESH)).not_to_be_attached()
    expect(fresh.locator(LAST).locator("h2")).to_be_in_viewport()


def test_paper_has_all_of_it(fresh: Page):
    fresh.emulate_media(media="print")
    assert fresh.evaluate(SKIPPED) == 0


def test_a_page_that_opens_elsewhere_than_at_its_top_is_drawn_whole(new_page: NewPage):
    page = new_page(f"{PAGE}{LAST}", python=False, fresh=True)
    assert page.locator(FRESH).count() == 0
    expect(page.locator(LAST)).to_be_in_viewport()
    page.reload()
    assert page.locator(FRESH).count() == 0


def test_calculators_start_on_a_page_that_draws_no_frame(new_page: NewPage):
    opened = new_page(
        "calculators/gas_rate.html", before=lambda page: page.add_init_script(NO_FRAME)
    )
    CalculatorPage(opened, "gas_rate").expect_state("ready")
    assert len(calculators(opened)) == 1
