"""Where the reader was: the home page leads back to the first step that is not ticked."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults
from tests.browser.conftest import UsedPage

# Light pages: each test loads some.
PROCEDURE, TITLE = "procedures/before_you_start.html", "Before you start"
OTHER, OTHER_TITLE = "procedures/safe_functioning.html", "Check the safe functioning"


@pytest.fixture
def page(used_page: UsedPage) -> Page:
    return used_page(PROCEDURE, reduced_motion="reduce")


def tick(page: Page, *numbers: int) -> None:
    for number in numbers:
        page.get_by_label(f"Done: step {number}", exact=True).check()


def home(page: Page) -> None:
    page.get_by_role("banner").get_by_role("link").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Gas commissioning handbook")


def resume(page: Page):
    return page.locator("[data-hb-resume]")


def test_leads_to_the_first_step_that_is_not_ticked(page):
    tick(page, 1, 2, 4)
    words = page.locator('[data-hb-step="3"] :is(h3, h4) > span').last.inner_text()
    home(page)
    expect(resume(page)).to_contain_text(f"Step 3: {words}")
    resume(page).get_by_role("link", name=TITLE, exact=True).click()
    expect(page.locator('[data-hb-step="3"]')).to_be_in_viewport()


def test_is_there_after_the_browser_was_shut(page):
    tick(page, 1)
    page.goto(page.url.replace(PROCEDURE, "index.html"))
    expect(resume(page)).to_contain_text("Step 2:")
    assert faults(page, within="main") == []


def test_nothing_is_shown_before_anything_is_ticked(used_page: UsedPage):
    page = used_page("index.html")
    expect(resume(page)).to_be_hidden()
    expect(page.get_by_role("heading", name="Where you were")).to_have_count(0)


def test_the_procedure_worked_on_last_is_the_one_shown(page):
    tick(page, 1)
    page.goto(page.url.replace(PROCEDURE, OTHER))
    tick(page, 1, 2)
    page.goto(page.url.replace(OTHER, ""))
    expect(resume(page).get_by_role("link")).to_have_text(OTHER_TITLE)
    expect(resume(page)).to_contain_text("Step 3:")


def test_clearing_the_ticks_of_another_procedure_leaves_it(page):
    page.goto(page.url.replace(PROCEDURE, OTHER))
    tick(page, 1)
    page.goto(page.url.replace(OTHER, PROCEDURE))
    tick(page, 1)
    page.goto(page.url.replace(PROCEDURE, OTHER))
    page.get_by_role("button", name="Clear the ticks").click()
    home(page)
    expect(resume(page).get_by_role("link")).to_have_text(TITLE)


def test_clearing_its_own_ticks_forgets_it(page):
    tick(page, 1, 2)
    page.get_by_role("button", name="Clear the ticks").click()
    home(page)
    expect(resume(page)).to_be_hidden()


def test_is_forgotten_on_request_and_the_ticks_stay(page):
    tick(page, 1)
    home(page)
    resume(page).get_by_role("button", name="Forget this place").click()
    expect(resume(page)).to_be_hidden()
    expect(page.get_by_role("heading", level=1)).to_be_focused()
    page.goto(page.url.replace("index.html", PROCEDURE))
    expect(page.get_by_label("Done: step 1", exact=True)).to_be_checked()


def test_all_done_leads_to_the_finish(page):
    count = page.locator("[data-hb-step]").count()
    tick(page, *range(1, count + 1))
    home(page)
    expect(resume(page)).to_contain_text("Every step is ticked.")
    resume(page).get_by_role("link").click()
    expect(page.get_by_role("heading", name="Finish", exact=True)).to_be_in_viewport()


def test_what_is_spoilt_in_storage_is_passed_over(page):
    for kept in ("{", "[]", '{"title": 3}'):
        page.evaluate("kept => localStorage.setItem('hb:place', kept)", kept)
        home(page)
        expect(resume(page), kept).to_be_hidden()
        page.go_back()
        expect(page.get_by_role("heading", level=1)).to_have_text(TITLE)


def test_home_begins_with_the_stop_then_the_visit_then_the_ways_in(used_page: UsedPage):
    page = used_page("index.html", viewport={"width": 390, "height": 844})
    places = [page.locator(each) for each in ("#stop", "[data-hb-visit-none]", ".hb-doors")]
    tops = [box["y"] for place in places if (box := place.bounding_box())]
    assert len(tops) == 3
    assert tops == sorted(tops)
    start = page.get_by_role("link", name="Start", exact=True).bounding_box()
    assert start is not None
    assert start["y"] + start["height"] < 844
    assert faults(page, within="main") == []


def test_a_visit_that_is_open_stands_in_place_of_starting_one(used_page: UsedPage):
    page = used_page("index.html")
    kept = '{"id": "a", "name": "Boiler, morning", "readings": 3}'
    page.evaluate("kept => localStorage.setItem('hb:visit', kept)", kept)
    page.reload()
    expect(page.locator("[data-hb-visit-home]")).to_contain_text("Boiler, morning")
    expect(page.locator("[data-hb-visit-none]")).to_be_hidden()
