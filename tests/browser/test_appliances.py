"""Several appliances in a visit: each has its own, all have what is shared, none is mistaken."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.appliances_page import COMBI, FIRE, VISIT, choices, choose, forms, to_visit, two
from tests.browser.burner_pressure_steps import FOUND, PLATE, PRESSURE, TOLERANCE, outcome
from tests.browser.conftest import PHONE, NewPage, UsedPage
from tests.browser.record_page import (
    RECORD,
    WHOLE,
    bring,
    field,
    held,
    keep,
    keep_open,
    move,
    said,
    taken,
)

SEVERAL = WHOLE.with_name("several.json")
STANDING = "working_pressure.meter_standing"  # read at the meter, for all


def test_with_one_appliance_nothing_is_said_of_it(used_page: UsedPage):
    page = used_page(PRESSURE)
    keep(page, PLATE, "12.5")
    expect(page.locator("[data-hb-appliances]")).to_be_hidden()
    expect(page.locator("[data-hb-reading-of]")).to_have_count(0)
    assert "Appliance 1" not in (page.locator("main").text_content() or "")


def test_each_is_judged_by_its_own_plate_and_the_meter_is_read_once(new_page: NewPage):
    page = new_page(PRESSURE, viewport=PHONE)
    for name, text in ((PLATE, "12.5"), (TOLERANCE, "0.3"), (FOUND, "12.4")):
        keep(page, name, text)
    expect(outcome(page, "found_maximum")).to_have_attribute("data-state", "within")
    move(page, RECORD, "The visit record")
    keep_open(page, STANDING, "22.8")
    two(page)
    expect(field(page, PLATE)).to_have_value("")
    expect(field(page, STANDING)).to_have_value("22.8")

    move(page, PRESSURE, "Set the burner pressure")
    expect(field(page, FOUND)).to_have_value("")
    keep(page, PLATE, "16.2")
    keep(page, TOLERANCE, "0.3")
    keep(page, FOUND, "12.4")
    # Hand sum: 16.2 - 12.4 = 3.8.
    expect(outcome(page, "found_maximum")).to_contain_text("Outside, low by 3.8 mbar.")
    choose(page, COMBI)
    expect(field(page, PLATE)).to_have_value("12.5")
    expect(outcome(page, "found_maximum")).to_have_attribute("data-state", "within")

    move(page, RECORD, "The visit record")
    expect(choices(page).filter(has_text=COMBI)).to_have_attribute("aria-pressed", "true")
    [visit] = json.loads(taken(page, "one"))["visits"]
    states = {(each["appliance"], each["state"]) for each in visit["outcomes"]}
    assert {("1", "within"), ("2", "outside"), ("", "within")} <= states
    [standing] = [each for each in visit["readings"] if each["name"] == STANDING]
    assert standing["appliance"] == ""
    assert [each["name"] for each in visit["appliances"]] == [COMBI, FIRE]


def test_the_name_stands_beside_the_steps_and_other_windows_follow(used_page: UsedPage):
    page = used_page(RECORD, viewport=PHONE)
    keep_open(page, PLATE, "12.5")
    two(page)
    other = page.context.new_page()
    other.set_viewport_size(PHONE)  # type: ignore[arg-type]
    other.goto(page.url.replace(RECORD, PRESSURE))
    lists = other.locator("[data-hb-reading-of]")
    expect(lists.first).to_have_attribute("data-hb-reading-of", FIRE)
    expect(other.locator("[data-hb-foot-where]")).to_contain_text(f"{FIRE}, step 1 of")
    # What is typed and not kept yet goes to the appliance that it was typed for.
    field(other, FOUND).press_sequentially("9.8")
    choose(page, COMBI)
    expect(field(other, FOUND)).to_have_value("")
    expect(field(other, PLATE)).to_have_value("12.5")
    expect(lists.first).to_have_attribute("aria-label", COMBI)
    choose(other, FIRE)
    expect(field(other, FOUND)).to_have_value("9.8")
    expect(field(page, FOUND)).to_have_value("9.8")
    # Where nothing of one appliance is read, none is named.
    other.goto(page.url.replace(RECORD, "procedures/tightness_test.html"))
    expect(other.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into")
    expect(other.locator("[data-hb-appliances]")).to_have_count(0)
    assert FIRE not in (other.locator("#steps").text_content() or "")
    other.close()


def ticks(page: Page) -> Locator:
    return page.locator("input[data-hb-tick]")


def test_ticks_and_times_are_of_one_appliance(used_page: UsedPage):
    page = used_page(RECORD)
    keep_open(page, PLATE, "12.5")
    two(page)
    page.goto(page.url.replace(RECORD, "procedures/working_pressure.html"))
    ticks(page).first.check()
    ticks(page).nth(2).check()
    page.locator("hb-timer [data-hb-start]").first.click()
    timer = page.locator("hb-timer").first
    expect(timer).to_have_attribute("data-state", "running")
    expect(page.locator("[data-hb-timers]")).to_contain_text(FIRE)
    page.reload()
    expect(ticks(page).first).to_be_checked()
    choose(page, COMBI)
    expect(ticks(page).first).not_to_be_checked()
    expect(timer).to_have_attribute("data-state", "ready")
    ticks(page).nth(1).check()
    choose(page, FIRE)
    expect(ticks(page).first).to_be_checked()
    expect(ticks(page).nth(1)).not_to_be_checked()
    expect(timer).to_have_attribute("data-state", "running")

    # A procedure that reads nothing of one appliance is gone through once.
    page.goto(page.url.replace("working_pressure", "purging"))
    ticks(page).first.check()
    page.goto(page.url.replace("procedures/purging.html", RECORD))
    choose(page, COMBI)
    [visit] = json.loads(taken(page, "one"))["visits"]
    kept = sorted((each["appliance"], each["procedure"]) for each in visit["ticks"])
    assert kept == [("", "purging"), ("1", "working_pressure"), *[("2", "working_pressure")] * 2]
    assert ",Ticked,purging," in taken(page, "table")
    page.goto(page.url.replace(RECORD, "procedures/purging.html"))
    expect(ticks(page).first).to_be_checked()
    # The next visit begins with none.
    page.goto(page.url.replace("procedures/purging.html", RECORD))
    page.get_by_role("button", name="Start it").click()
    expect(page.locator("[data-hb-visit]")).to_have_count(2)
    page.goto(page.url.replace(RECORD, "procedures/purging.html"))
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into")
    expect(ticks(page).first).not_to_be_checked()


def test_what_was_ticked_just_before_a_visit_goes_into_it(used_page: UsedPage):
    page = used_page(PRESSURE)
    ticks(page).first.check()
    keep(page, PLATE, "12.5")
    expect(ticks(page).first).to_be_checked()
    move(page, RECORD, "The visit record")
    [visit] = json.loads(taken(page, "one"))["visits"]
    assert [each["procedure"] for each in visit["ticks"]] == ["burner_pressure"]


def test_one_is_taken_out_only_after_it_was_asked(used_page: UsedPage):
    page = used_page(RECORD)
    told = bring(page, SEVERAL.read_text("utf-8"))
    expect(told).to_contain_text("is imported")
    page.locator('[data-hb-act="open"]').click()
    expect(choices(page)).to_have_count(2)
    assert held(taken(page, "all")) == held(SEVERAL.read_text("utf-8"))
    choose(page, FIRE)
    expect(field(page, PLATE)).to_have_value("16.2")
    expect(page.locator("#hb-written-defects")).to_have_value("Seal torn.")
    to_visit(page)
    place = forms(page)
    place.locator('[data-hb-appliance-act="out"]').click()
    expect(place.locator("[data-hb-appliance-sure]")).to_contain_text(
        f"Take out “{FIRE}” with 1 reading and all else of its own?"
    )
    place.locator('[data-hb-appliance-act="spare"]').click()
    expect(choices(page)).to_have_count(2)

    # Another window types for it meanwhile: that is not kept for an appliance that is not there.
    other = page.context.new_page()
    other.add_init_script("delete window.BroadcastChannel")
    other.goto(page.url.replace(VISIT, PRESSURE))
    expect(field(other, PLATE)).to_have_value("16.2")
    place.locator('[data-hb-appliance-act="out"]').click()
    place.locator('[data-hb-appliance-act="out-now"]').click()
    expect(page.locator("[data-hb-appliances]")).to_be_hidden()
    move(page, RECORD, "The visit record")
    expect(field(page, PLATE)).to_have_value("12.5")
    field(other, FOUND).fill("9.8")
    expect(said(other, FOUND)).to_contain_text("this appliance was taken out of the visit")
    expect(field(other, FOUND)).to_have_value("9.8")
    other.close()
    [visit] = json.loads(taken(page, "one"))["visits"]
    assert {each["appliance"] for each in [*visit["readings"], *visit["ticks"]]} == {"", "1"}
    assert visit["notes"] == []


def many() -> str:
    """An invented visit of 200 readings and three appliances, with names of the data."""
    visit: dict[str, Any] = json.loads(SEVERAL.read_text("utf-8"))
    [whole] = visit["visits"]
    at = whole["begun"]
    whole["appliances"] = [{"id": str(n), "name": f"Appliance {n}", "at": at} for n in (1, 2, 3)]
    about = {"label": "A reading", "value": "12.5", "unit": "mbar", "at": at}
    whole["readings"] = [
        {**about, "name": f"another.edition_{number}", "appliance": str(number % 3 + 1)}
        for number in range(197)
    ] + [{**about, "name": PLATE, "appliance": str(n)} for n in (1, 2, 3)]
    for part in ("choices", "ticks", "notes"):
        whole[part] = [each for each in whole[part] if each["appliance"] in ("", "1")]
    return json.dumps(visit)


# From the touch to the next picture in which the page has what the visit holds.
OPENED = """() => new Promise((done) => {
    const begun = performance.now();
    document.addEventListener('hb:visit', () => requestAnimationFrame(() => setTimeout(
        () => done(performance.now() - begun))), {once: true});
    document.querySelector('[data-hb-act="open"]').click();
})"""
OPENS_MS = 300
BUSY = 4  # other tests may hold both cores: this looks for a fault


def test_a_visit_of_200_readings_and_three_appliances_opens_at_once(used_page: UsedPage):
    page = used_page(RECORD, viewport=PHONE)
    bring(page, many())
    took = []
    for _ in range(3):
        # The list of visits is drawn a moment after the import is said to be done.
        expect(page.locator('[data-hb-act="open"]')).to_be_visible()
        took.append(page.evaluate(OPENED))
        expect(field(page, PLATE)).to_have_value("12.5")
        page.locator('[data-hb-act="close"]').click()
        expect(page.locator("[data-hb-visit]")).to_have_attribute("data-state", "closed")
    assert min(took) < BUSY * OPENS_MS


# Types as soon as the field is there: the record is not read from the device by then.
AT_ONCE = """([name, text]) => new MutationObserver((_, watching) => {
    const field = document.querySelector(`li[data-hb-reading="${name}"] input`);
    if (!field) return;
    watching.disconnect();
    field.value = text;
    field.dispatchEvent(new Event('input', {bubbles: true}));
}).observe(document, {childList: true, subtree: true})"""


@pytest.mark.parametrize("mirror", ["kept", "refused"])
def test_what_is_typed_before_the_record_is_read_is_of_the_appliance_worked_on(
    new_page: NewPage, mirror: str
):
    page = new_page(PRESSURE, viewport=PHONE, python=False)
    keep(page, PLATE, "12.5")
    two(page)
    expect(field(page, PLATE)).to_have_value("")
    at_once = f"({AT_ONCE})({json.dumps([PLATE, '16.2'])});"
    refused = "Storage.prototype.getItem = () => { throw new DOMException('refused'); };"
    page.add_init_script(at_once + (refused if mirror == "refused" else ""))
    page.goto(page.url.replace(RECORD, PRESSURE))
    expect(said(page, PLATE)).to_have_text("Kept")
    expect(field(page, PLATE)).to_have_value("16.2")
    choose(page, COMBI)
    expect(field(page, PLATE)).to_have_value("12.5")


def test_axe_finds_nothing_and_each_choice_is_48_px_high(used_page: UsedPage):
    page = used_page(RECORD, viewport=PHONE, color_scheme="light")
    bring(page, SEVERAL.read_text("utf-8"))
    page.locator('[data-hb-act="open"]').click()
    expect(choices(page)).to_have_count(2)
    to_visit(page)
    forms(page).locator('[data-hb-appliance-act="out"]').click()
    for where in (VISIT, PRESSURE):
        if where != VISIT:
            move(page, where, "Set the burner pressure")
            expect(choices(page)).to_have_count(2)
        assert faults_in_both_schemes(page, "html") == {}
        for button in choices(page).all():
            assert (button.bounding_box() or {"height": 0})["height"] >= 48
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


def test_the_choice_is_made_by_keyboard(used_page: UsedPage):
    page = used_page(RECORD)
    bring(page, SEVERAL.read_text("utf-8"))
    page.locator('[data-hb-act="open"]').click()
    choices(page).last.focus()
    page.keyboard.press("Enter")
    expect(choices(page).last).to_have_attribute("aria-pressed", "true")
    expect(choices(page).last).to_be_focused()
    expect(field(page, PLATE)).to_have_value("16.2")
