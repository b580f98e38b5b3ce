"""A step answers what is typed in it, the record keeps it, and the checks of the visit follow."""

from __future__ import annotations

import json

from playwright.sync_api import Locator, Page, expect

from tests.browser.burner_pressure_steps import (
    FOUND,
    LEFT,
    PLATE,
    PRESSURE,
    TOLERANCE,
    WHICH,
    outcome,
)
from tests.browser.conftest import PHONE, NewPage, Warm
from tests.browser.record_page import field, keep, move, taken, to_record
from tests.steps.outcome_rows import OutcomeRow, outcome_rows

RESTED_MS = 1200  # typing rests for 300 ms, then it is kept
# Hand sums: 12.5 − 9.8 = 2.7, and 12.5 − 0.3 = 12.2.
LOW = "Outside, low by 2.7 mbar."
HELD = "Plate 12.5 mbar. Accept 12.2 to 12.8 mbar · instructions"


def beside(page: Page, name: str) -> Locator:
    """What the record says beside a reading."""
    return page.locator(f'li[data-hb-reading="{name}"] [data-hb-line-outcome]')


def test_a_step_answers_while_it_is_typed_and_the_record_keeps_it(new_page: NewPage):
    page = new_page(PRESSURE, viewport=PHONE)
    stated = page.locator(f'[data-hb-stated="{PLATE}"]').first
    expect(stated).to_have_text("The appliance's own instructions give it. Look there.")
    keep(page, PLATE, "12.5")
    expect(stated).to_have_text("12.5\xa0mbar · the plate, as you typed it")
    keep(page, TOLERANCE, "0.3")
    found = outcome(page, "found_maximum")
    held = page.locator("#step-found-maximum [data-hb-held]")
    expect(held).to_have_text(HELD)
    expect(found).to_be_hidden()

    # Before it is kept, and before anything else is touched.
    field(page, FOUND).press_sequentially("9.8")
    expect(found).to_contain_text(LOW)
    expect(found).to_have_attribute("data-state", "outside")
    expect(found).to_contain_text("raise it a little at a time")
    assert found.locator("[data-hb-shape]:visible").count() == 1
    # It is read out once, politely, when typing rests.
    told = page.locator("[data-hb-outcome-said]")
    expect(told).to_contain_text(LOW)
    assert told.get_attribute("role") == "status"
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    asked_about_once_as_typing_rests(page)

    to_record(page)
    expect(beside(page, FOUND)).to_contain_text(LOW)
    expect(beside(page, FOUND)).to_contain_text(HELD)
    [visit] = json.loads(taken(page, "one"))["visits"]
    [kept] = visit["outcomes"]
    assert (kept["step"], kept["state"]) == ("burner_pressure.found_maximum", "outside")
    [verdict] = kept["verdicts"]
    assert (verdict["outcome"], verdict["limit"]) == ("does_not_meet", "12.2 to 12.8\xa0mbar")

    # Another figure is another outcome, and none is none.
    field(page, FOUND).fill("12.4")
    expect(beside(page, FOUND)).to_contain_text("Within.")
    field(page, TOLERANCE).fill("0.05")
    expect(beside(page, FOUND)).to_contain_text("Outside, low by 0.1")
    field(page, FOUND).fill("")
    expect(beside(page, FOUND)).to_have_count(0)


# Each request for the lines of several steps.
ASKED = """() => {
    const client = window.hbCalculatorClient;
    const run = client.run.bind(client);
    window.asked = [];
    client.run = (request, ...more) => {
        if (request.steps?.length > 1) window.asked.push(request.readings);
        return run(request, ...more);
    };
}"""


def asked_about_once_as_typing_rests(page: Page) -> None:
    """One answer for all steps of the page, whether a reading is new or typed anew."""
    found = outcome(page, "found_maximum")
    field(page, FOUND).fill("")
    expect(found).to_be_hidden()
    page.wait_for_timeout(RESTED_MS)
    page.evaluate(ASKED)
    for count, (text, line) in enumerate({"12.4": "Within.", "9.8": LOW}.items(), 1):
        keep(page, FOUND, text)
        expect(found).to_contain_text(line)
        page.wait_for_timeout(RESTED_MS)
        asked = page.evaluate("window.asked")
        assert [each[FOUND]["value"] for each in asked][count - 1 :] == [text]
    # Another reading that is taken back at once leaves every line as it was.
    field(page, PLATE).press_sequentially("0")
    field(page, PLATE).press("Backspace")
    page.wait_for_timeout(RESTED_MS)
    expect(found).to_contain_text(LOW)


def test_the_checks_of_a_visit_follow_its_answers_and_its_readings(new_page: NewPage):
    page = new_page(WHICH, viewport=PHONE)
    for question, answer in {"burner": "injectors", "flue": "room_sealed"}.items():
        radio = f'[data-hb-checks-question="{question}"] input[value="{answer}"]'
        page.locator(radio).check(force=True)
    move(page, "burner_pressure.html", "Set the burner pressure")
    expect(page.locator("[data-hb-check-place]")).to_have_count(0)  # no visit is open
    place, following = page.locator("[data-hb-check-place]"), page.locator("[data-hb-check-next]")
    keep(page, PLATE, "12.5")
    expect(following).to_be_visible()
    # What has not changed stays the same part: a finger may be on it.
    shown = following.element_handle()
    keep(page, TOLERANCE, "0.3")
    assert shown.evaluate("each => each.isConnected")
    done = following.get_by_role("button")
    done.press("Enter")
    expect(done).to_have_text("This check is done. Take that back")
    expect(done).to_be_focused()
    done.press("Enter")
    keep(page, LEFT, "13.4")
    expect(place).to_have_text("Check 11 of 18")
    expect(following).to_contain_text("Next check: Check the gas rate")

    place.locator("a").click()
    expect(page.locator("main h1")).to_have_text("Checks in order")
    row = page.locator('[data-hb-check-id="burner_pressure"]')
    expect(row).to_have_attribute("data-state", "not_met")
    # A person's word does not outweigh a reading that is outside: 13.4 is 0.9 above the plate.
    expect(row).to_contain_text("Outside, high by 0.9")
    row.locator("select").select_option("done")
    expect(page.locator("[data-hb-checks-done]")).to_have_text("0 of 18 closed.")
    expect(row).to_have_attribute("data-state", "not_met")
    to_record(page)
    field(page, LEFT).fill("12.5")
    expect(beside(page, LEFT)).to_contain_text("Within.")
    move(page, "visit/checks_in_order.html", "Checks in order")
    expect(row).to_have_attribute("data-state", "done")
    expect(page.locator('[data-hb-check-id="flue_open"]')).to_have_count(0)

    purge = page.locator('[data-hb-check-id="purge"]')
    purge.locator("select").select_option("left_out")
    missing = page.locator("[data-hb-missing]")
    expect(missing).to_contain_text("Why it is left out: Purge the pipework")
    purge.locator("input").fill("No joint was opened.")
    purge.locator("input").press("Tab")
    expect(missing).not_to_contain_text("Why it is left out")
    # Two of the six questions are answered. The plate is asked for before the start too.
    expect(missing).to_contain_text("Missing: 2. 4 answers, readings of 1 check")
    expect(page.locator("[data-hb-go-on]")).to_contain_text("1 Look before you start")
    page.reload()
    expect(purge).to_contain_text("No joint was opened.")
    to_record(page)
    [visit] = json.loads(taken(page, "one"))["visits"]
    assert {each["name"]: each["value"] for each in visit["choices"]} == {
        "burner": "injectors",
        "flue": "room_sealed",
    }
    move(page, "which_checks_apply.html", "Which checks apply")
    flue = page.locator('[data-hb-checks-question="flue"] input[value="room_sealed"]')
    expect(flue).to_be_checked()


EACH = 2  # rows of each step; every row is run under Node


def sample() -> list[OutcomeRow]:
    """Some rows of each step, spread over its table."""
    found: dict[str, list[OutcomeRow]] = {}
    for row in outcome_rows():
        found.setdefault(row.step, []).append(row)
    return [row for each in found.values() for row in each[:: max(1, len(each) // EACH)][:EACH]]


def test_rows_of_every_step_are_the_same_in_the_browser(warm: Warm, bridge):
    asked = sample()
    assert asked
    page = warm("calculators/gas_rate.html")
    replies = page.evaluate(
        "requests => Promise.all(requests.map((each) => window.hbCalculatorClient.run(each)))",
        [row.request for row in asked],
    )
    for row, reply in zip(asked, replies, strict=True):
        assert reply == bridge.reply(row.request), row.id


def test_what_stops_the_work_leads_to_unsafe_situations_before_the_next_check(new_page: NewPage):
    page = new_page(WHICH, viewport=PHONE)
    for question, answer in {"work": "pipework", "age": "existing"}.items():
        radio = f'[data-hb-checks-question="{question}"] input[value="{answer}"]'
        page.locator(radio).check(force=True)
    move(page, "tightness_test.html", "Test the pipework for tightness")
    links = page.locator("[data-hb-check-next] a")
    start, end = "tightness.let_by_start", "tightness.let_by_end"
    # A pressure that is set anew is no danger: IGEM/UP/1B asks for 7 to 10 mbar.
    keep(page, start, "6.0")
    keep(page, end, "6.0")
    expect(page.locator("[data-hb-check-next]")).to_contain_text("Not met.")
    expect(links).to_have_count(1)
    expect(links).to_contain_text("Next check:")
    # A control that lets gas by is one: 1 mbar in a minute, on any gauge.
    keep(page, start, "8.0")
    keep(page, end, "9.0")
    expect(links).to_have_count(2)
    expect(links.first).to_have_text("First: Deal with an unsafe situation")
    expect(links.last).to_contain_text("Next check:")
    links.first.evaluate("link => link.click()")
    expect(page.locator("main h1")).to_have_text("Deal with an unsafe situation")
