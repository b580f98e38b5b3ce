"""The record on paper where it is longer than two sides, and where there is nothing to print.

Of one appliance it is tests/offline/test_walked_visits.py.
"""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser import printed_record
from tests.browser.brought_visit import MOST_OUTCOMES_MS, SCENARIO, visit_of
from tests.browser.conftest import NewPage
from tests.browser.record_page import RECORD, act, bring


def opened(new_page: NewPage, names: set[str]) -> Page:
    page = new_page(RECORD, viewport={"width": 1280, "height": 800})
    bring(page, visit_of(names))
    act(page, "open")
    judged = page.locator("[data-hb-line-outcome]")
    judged.nth(60).wait_for(state="attached", timeout=MOST_OUTCOMES_MS)
    last = page.locator('li[data-hb-reading="room_sealed_flue.supports_left"]')
    expect(last.locator("[data-hb-line-outcome]")).to_have_count(1)
    return page


def test_more_than_two_sides_say_so_and_lose_nothing(new_page: NewPage):
    page = opened(new_page, set(SCENARIO))
    pdf = page.pdf(prefer_css_page_size=True, format="A4")
    printed_record.laid(page)
    sides = page.locator(".hb-printed__side")
    count = sides.count()
    assert count == printed_record.sides(pdf) > 2
    for number in range(count):
        more = ", continued" if number > 1 else ""
        head = sides.nth(number).locator(".hb-printed__head > *").last
        expect(head).to_have_text(f"Kitchen boiler · side {number + 1} of {count}{more}")
    # What stands in no row of its own still stands there, under its group.
    text = printed_record.words(page)
    for words in ("Depth of the catchment space", "280 mm", "Thermocouple, under load", "14 mV"):
        assert words in text


def test_a_blank_form_and_a_page_without_a_visit_stay_as_they_were(new_page: NewPage):
    page = new_page(RECORD, python=False)
    printed_record.laid(page)
    expect(page.locator(".hb-printed")).to_have_count(0)
    expect(page.locator('li[data-hb-reading="burner_pressure.left_max"]')).to_be_visible()
