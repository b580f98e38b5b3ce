"""Instruments of the reader's own: typed once, told in each step, copied into the visit."""

from __future__ import annotations

import json

from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.conftest import PATIENCE_MS, PHONE, NewPage, UsedPage
from tests.browser.record_page import keep, move, taken, to_record

PAGE = "own/your_own.html"
DROP = "permissible_drop_natural_gas"  # an invented 3 mbar, to 0.02 m³
# Invented. Its calibration ended before any day on which this can run.
TYPED = {
    "name": "Blue box",
    "serial": "A 17",
    "resolution": "0.01",
    "accuracy": "0.5 %",
    "calibrated_on": "2024-05-01",
    "calibrated_until": "2025-05-01",
}
PAST = "Its calibration ended on 1 May 2025."


def add(page: Page, kind: str = "digital_gauge_2dp", **typed: str) -> None:
    page.locator("[data-hb-own-kind]").select_option(kind)
    page.locator("[data-hb-own-add]").click()
    item = page.locator("[data-hb-own-instrument]").last
    for key, text in typed.items():
        field = item.locator(f'[data-hb-key="{key}"]')
        field.fill(text)
        field.press("Tab")


def test_an_instrument_is_typed_once_and_each_step_says_that_it_took_the_reading(new_page: NewPage):
    page = new_page(PAGE, viewport=PHONE)
    add(page, **TYPED)
    told = page.locator("[data-hb-own-instrument] [data-hb-own-told]")
    expect(told).to_contain_text(PAST, timeout=PATIENCE_MS)
    expect(told.locator("svg")).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    for place, text in enumerate(("0.02", "3")):  # a figure beside it: its row has more then
        page.locator(f'[data-hb-own="{DROP}"] input').nth(place).fill(text)
        page.locator(f'[data-hb-own="{DROP}"] input').nth(place).press("Tab")
    used = page.locator(f'[data-hb-own="{DROP}"] .hb-kept')
    expect(used).to_contain_text("Used wherever it is asked for")
    assert faults_in_both_schemes(page, "main") == {}
    page.reload()
    expect(page.locator('[data-hb-own-instrument] [data-hb-key="serial"]')).to_have_value("A 17")

    move(page, "procedures/burner_pressure.html", "Set the burner pressure")
    keep(page, "plate.burner_pressure_max", "12.5")
    keep(page, "instructions.burner_pressure_tolerance", "0.3")
    keep(page, "burner_pressure.found_max", "12.4")
    own = page.locator('[data-hb-outcome="burner_pressure.found_maximum"] [data-hb-own-instrument]')
    expect(own).to_contain_text("Your own: Blue box", timeout=PATIENCE_MS)
    expect(own).to_contain_text(PAST)
    expect(own.locator("svg")).to_have_count(1)

    to_record(page)
    used = page.locator("[data-hb-visit-instruments-list] li")
    expect(used).to_contain_text("Blue box, serial number A 17")
    expect(used).to_contain_text("Calibration past since 1 May 2025.")
    expect(used.locator("svg")).to_have_count(1)
    page.emulate_media(media="print")
    expect(used).to_be_visible()
    page.emulate_media(media="screen")
    [visit] = json.loads(taken(page, "one"))["visits"]
    [copy] = visit["instruments"]
    copy.pop("at")
    assert copy == {
        "kind": "digital_gauge_2dp",
        "name": "Blue box",
        "serial": "A 17",
        "resolution": "0.01\N{NO-BREAK SPACE}mbar",
        "accuracy": "0.5\N{NO-BREAK SPACE}%",
        "calibrated_until": "2025-05-01",
        "appliance": "",
    }
    assert all("Blue box" in each["text"] for each in visit["outcomes"][0]["verdicts"])


def test_of_two_gauges_readings_are_taken_with_one(used_page: UsedPage):
    page = used_page(PAGE)
    add(page, name="Blue box")
    add(page, "tape_measure", name="Tape")
    add(page, "water_gauge", name="Tube")
    uses = page.locator('[data-hb-own-instrument] [data-hb-key="in_use"]')
    assert [uses.nth(place).is_checked() for place in range(3)] == [False, True, True]
    uses.nth(0).check()
    expect(uses.nth(2)).not_to_be_checked()


def test_one_is_taken_out_after_a_question_and_all_of_it_too(used_page: UsedPage):
    page = used_page(PAGE)
    add(page, name="Blue box")
    add(page, "tape_measure", name="Tape")
    items = page.locator("[data-hb-own-instrument]")
    items.nth(0).locator("[data-hb-own-out]").click()
    expect(items.nth(0).locator("[data-hb-own-keep]")).to_be_focused()
    items.nth(0).locator("[data-hb-own-keep]").click()
    expect(items).to_have_count(2)
    items.nth(0).locator("[data-hb-own-out]").click()
    items.nth(0).locator("[data-hb-own-out-now]").click()
    expect(items).to_have_count(1)
    expect(items.locator('[data-hb-key="name"]')).to_have_value("Tape")
    page.locator("[data-hb-own-clear]").click()
    page.locator("[data-hb-own-clear-now]").click()
    expect(items).to_have_count(0)
    assert page.evaluate("localStorage.getItem('hb:own')") is None
