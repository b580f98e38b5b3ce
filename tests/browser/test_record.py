"""The visit record: what is read stays on this device, fills calculators, can be taken along."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.brought_visit import visit_of
from tests.browser.conftest import PATIENCE_MS, NewPage, UsedPage
from tests.browser.record_page import (
    INLET,
    PLATE_INPUT,
    PLATE_MAX,
    RECORD,
    STEPS,
    WHOLE,
    act,
    bring,
    field,
    keep,
    keep_open,
    said,
    taken,
    to_record,
    visits,
)


def test_a_reading_stays_through_reload_moves_and_a_second_window(used_page: UsedPage):
    page = used_page(STEPS)
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("The first one opens a visit")
    keep(page, INLET, "20")
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into “Visit of ")
    page.reload()
    expect(field(page, INLET)).to_have_value("20")
    # What is typed last is kept though the page is left at once.
    field(page, PLATE_INPUT).press_sequentially("27.0")
    to_record(page)
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    expect(page.locator("details", has=field(page, INLET))).to_contain_text("2 of 12")
    missing = page.locator("[data-hb-missing] li", has_text="Before you start")
    expect(missing).to_contain_text("Lowest inlet working pressure")
    expect(missing).not_to_contain_text("Nominal inlet pressure")
    # Nothing was found wrong: how it was left is not asked, and is not missing.
    expect(missing).not_to_contain_text("as left")

    # Another window: the later write of one field undoes no other.
    other = page.context.new_page()
    other.goto(page.url)
    keep(other, "plate.burner_pressure_min", "2.0")
    expect(field(page, "plate.burner_pressure_min")).to_have_value("2.0")
    keep(page, INLET, "2.1 kPa")
    expect(field(other, INLET)).to_have_value("2.1 kPa")
    expect(field(other, PLATE_INPUT)).to_have_value("27.0")
    expect(visits(other)).to_have_count(1)
    field(other, PLATE_INPUT).fill("")
    expect(said(other, PLATE_INPUT)).to_have_text("Taken out")
    expect(field(page, PLATE_INPUT)).to_have_value("")

    # A visit that is deleted there is not written into here.
    act(other, "delete")
    act(other, "delete-now")
    expect(visits(page)).to_have_count(0)
    other.close()
    page.goto(page.url.replace(RECORD, "index.html"))
    expect(page.locator("[data-hb-visit-home]")).to_be_hidden()


def test_visits_are_named_opened_and_closed(used_page: UsedPage):
    page = used_page(RECORD)
    page.locator("[data-hb-visit-new-name]").fill("Boiler upstairs")
    page.get_by_role("button", name="Start it").click()
    keep_open(page, PLATE_INPUT, "27.0")
    page.get_by_role("button", name="Start it").click()
    expect(page.locator('[data-hb-visit][data-state="open"]')).to_contain_text("Visit of ")
    expect(field(page, PLATE_INPUT)).to_have_value("")
    page.locator("[data-hb-visit-name]").fill("Boiler downstairs")
    page.get_by_role("button", name="Rename").click()
    expect(visits(page).filter(has_text="Boiler downstairs")).to_have_count(1)
    page.locator("#hb-written-defects").fill("A torn seal.")
    expect(page.locator('[data-hb-written="defects"] .hb-kept')).to_have_text("Kept")
    visits(page).filter(has_text="upstairs").locator('[data-hb-act="open"]').click()
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    expect(page.locator("#hb-written-defects")).to_have_value("")
    upstairs = visits(page).filter(has_text="upstairs")
    upstairs.locator('[data-hb-act="close"]').click()
    expect(upstairs).to_have_attribute("data-state", "closed")
    expect(field(page, PLATE_INPUT)).to_have_value("")
    page.goto(page.url.replace(RECORD, STEPS))
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("The first one opens a visit")


def test_a_visit_of_another_day_asks_whether_this_is_another_job(used_page: UsedPage):
    page = used_page(RECORD)
    bring(page, WHOLE.read_text("utf-8").replace("2026-11-25T08:30", "2020-01-02T08:30"))
    act(page, "open")
    expect(visits(page)).to_have_attribute("data-state", "open")
    page.goto(page.url.replace(RECORD, STEPS))
    bar = page.locator("[data-hb-visit-bar]")
    expect(bar).to_contain_text("begun on 2 January 2020")
    bar.get_by_role("button", name="Start a new visit").click()
    expect(bar).to_contain_text("Readings go into “Visit of ")
    expect(field(page, PLATE_INPUT)).to_have_value("")


def test_without_script_it_is_a_form_to_print(new_page: NewPage):
    page = new_page(RECORD, java_script_enabled=False)
    groups = page.locator("[data-hb-readings-group]")
    assert groups.count() > 10
    expect(groups.last.locator("li").last).to_be_visible()
    expect(page.locator("noscript .hb-note")).to_be_visible()
    expect(page.locator("[data-hb-record-live]").first).to_be_hidden()
    expect(page.locator(".hb-signed dt").first).to_be_visible()


def test_paper_shows_what_is_held_and_the_blank_form_no_figure(used_page: UsedPage):
    page = used_page(RECORD)
    bring(page, WHOLE.read_text("utf-8"))
    act(page, "open")
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    page.evaluate("window.print = () => dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    page.locator('[data-hb-export="print"]').evaluate("button => button.click()")
    plate = page.locator(".hb-printed__cell", has_text="Maximum heat input, net")
    expect(plate.locator("b")).to_have_text("27.0 kW")
    gauge = page.locator(".hb-printed__entry", has_text="Blue box, invented")
    expect(gauge).to_contain_text("Number A 17, steps of 0.1 mbar, accurate to 0.5 %")
    expect(gauge).to_contain_text("calibrated until 1 May 2027.")
    expect(field(page, PLATE_MAX)).to_be_hidden()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(page.locator("[data-hb-printed]")).to_have_count(0)
    page.locator('[data-hb-export="blank"]').evaluate("button => button.click()")
    expect(field(page, PLATE_MAX)).to_be_visible()
    expect(field(page, PLATE_INPUT)).to_have_css("color", "rgba(0, 0, 0, 0)")
    expect(page.locator("[data-hb-visit-head]")).to_be_hidden()


def test_axe_finds_nothing_and_all_is_large_enough_to_touch(used_page: UsedPage):
    page = used_page(RECORD, viewport={"width": 390, "height": 844}, color_scheme="light")
    bring(page, WHOLE.read_text("utf-8"))
    act(page, "open")
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    act(page, "delete")
    assert faults_in_both_schemes(page, "main") == {}
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    small: Any = page.evaluate(
        """() => [...document.querySelectorAll('main :is(input, button, textarea, summary)')]
            .filter((each) => each.offsetParent && each.offsetHeight < 44)
            .map((each) => each.outerHTML)"""
    )
    assert small == []


OPEN_FLUE, OPEN_FLUE_TOO = "open_flue.height", "open_flue.oxygen"
HOT_WATER, WITH_SMOKE = "hot_water.collected", "open_flue.no_spillage"


def line(page: Page, name: str) -> Locator:
    return page.locator(f'li[data-hb-reading="{name}"]')


def unfold(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach(each => (each.open = true))")


def test_the_record_leaves_away_what_the_answers_rule_out_and_nothing_typed(new_page: NewPage):
    page = new_page(RECORD)
    visit = visit_of({PLATE_INPUT})
    bring(page, visit)
    act(page, "open")
    # The invented boiler is a room-sealed combination boiler.
    unfold(page)
    for name in (OPEN_FLUE, OPEN_FLUE_TOO, WITH_SMOKE):
        expect(line(page, name)).to_be_hidden()
    expect(line(page, HOT_WATER)).to_be_visible()
    group = page.locator("[data-hb-readings-group]", has=line(page, OPEN_FLUE))
    expect(group).to_be_hidden()
    expect(page.locator("[data-hb-left-away]")).to_contain_text("readings have no line")

    # What was typed stays, whatever is answered later, also what is no number.
    changed = json.loads(visit)
    [told] = changed["visits"]
    told["id"] = "0" * 31 + "2"
    told["readings"] += [
        {"name": name, "label": "Typed", "value": value, "unit": unit, "at": told["begun"]}
        for name, value, unit in ((OPEN_FLUE, "4", "m"), (OPEN_FLUE_TOO, "abc", "%"))
    ]
    bring(page, json.dumps(changed))
    visits(page).nth(0).locator('[data-hb-act="open"]:visible').or_(
        visits(page).nth(1).locator('[data-hb-act="open"]:visible')
    ).first.click()
    expect(field(page, OPEN_FLUE)).to_have_value("4")
    unfold(page)
    for name in (OPEN_FLUE, OPEN_FLUE_TOO):
        expect(line(page, name)).to_be_visible()
    expect(line(page, WITH_SMOKE)).to_be_hidden()
    # One that is taken out again goes once the reader has left it.
    field(page, OPEN_FLUE).fill("")
    expect(said(page, OPEN_FLUE)).to_have_text("Taken out")
    expect(line(page, OPEN_FLUE)).to_be_visible()
    field(page, PLATE_INPUT).fill("27.1")
    expect(said(page, PLATE_INPUT)).to_have_text("Kept")
    expect(line(page, OPEN_FLUE)).to_be_hidden()
    expect(line(page, OPEN_FLUE_TOO)).to_be_visible()


def test_what_two_steps_say_of_the_same_readings_stands_once(new_page: NewPage):
    page = new_page(RECORD)
    rate = {"left_index_first", "left_index_second", "left_elapsed"}
    names = {PLATE_INPUT, "gas.calorific_value_gross", *(f"gas_rate.{each}" for each in rate)}
    bring(page, visit_of(names))
    act(page, "open")
    beside = line(page, "gas_rate.left_index_first").locator("[data-hb-line-outcome]")
    expect(beside).to_have_count(1, timeout=PATIENCE_MS)
    # Each step has an outcome in the file, for the page that it stands on.
    steps = [each["step"] for each in json.loads(taken(page, "one"))["visits"][0]["outcomes"]]
    assert {"burner_pressure.final_gas_rate", "record_and_handover.fit_together"} <= set(steps)
    rows = [
        row
        for row in taken(page, "table").splitlines()
        if ",Outcome," in row and "Heat input" in row
    ]
    assert len(rows) == 1
