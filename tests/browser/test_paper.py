"""The record on paper where it is longer than two sides, and where there is nothing to print.

Of one appliance it is tests/offline/test_walked_visits.py.
"""

from __future__ import annotations

import json

from playwright.sync_api import Page, expect

from tests.browser import sheets
from tests.browser.conftest import NewPage
from tests.browser.record_page import RECORD, act, bring
from tests.drawn.invented import ANSWERS, NOTES
from tests.project import project
from tests.steps.outcome_rows import NUMBER

SCENARIO = project().one("scenario")["readings"]
LABELS = {
    "appliance": "Appliance",
    "done": "What was done",
    "advice": "Advice and notices",
    "instruments": "Instruments",
}
AT = "2026-11-25T09:10:00.000Z"
UNITS = {"percent": "%", "ohm": "Ω"}
MOST_OUTCOMES_MS = 120_000


def reading(name: str, entry: dict[str, str]) -> dict[str, str]:
    value, unit = entry["value"], ""
    if NUMBER.match(value):
        value, _, unit = value.partition(" ")
    about = {"name": name, "label": entry["label"], "at": AT}
    return {**about, "value": value, "unit": UNITS.get(unit, unit)}


def visit_of(names: set[str]) -> str:
    """A file of one visit, as version 3 had it: no outcomes, the page works them out."""
    choices = [{"name": name, "value": value, "at": AT} for name, value in ANSWERS.items()]
    notes = [
        {"name": name, "label": LABELS[name], "text": text, "at": AT}
        for name, text in NOTES.items()
    ]
    visit = {
        "id": "0" * 31 + "1", "name": "Kitchen boiler", "begun": AT, "closed": None,
        "readings": [reading(name, each) for name, each in SCENARIO.items() if name in names],
        "outcomes": [], "choices": choices, "checks": [], "notes": notes, "answers": [],
    }  # fmt: skip
    head = {"format": "gas-commissioning-visits", "version": 3, "edition": "2026-11-25"}
    return json.dumps({**head, "written": AT, "visits": [visit]})


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
    sheets.laid(page)
    sides = page.locator(".hb-sheet__side")
    count = sides.count()
    assert count == sheets.sides(pdf) > 2
    for number in range(count):
        more = ", continued" if number > 1 else ""
        head = sides.nth(number).locator(".hb-sheet__head > *").last
        expect(head).to_have_text(f"Kitchen boiler · side {number + 1} of {count}{more}")
    # What stands in no row of its own still stands there, under its group.
    text = sheets.words(page)
    for words in ("Depth of the catchment space", "280 mm", "Thermocouple, under load", "14 mV"):
        assert words in text


def test_a_blank_form_and_a_page_without_a_visit_stay_as_they_were(new_page: NewPage):
    page = new_page(RECORD, python=False)
    sheets.laid(page)
    expect(page.locator(".hb-sheets")).to_have_count(0)
    expect(page.locator('li[data-hb-reading="burner_pressure.left_max"]')).to_be_visible()
