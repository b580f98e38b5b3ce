"""A reading of which a word is chosen: into the record, out of it again, and on paper."""

from __future__ import annotations

import json

from playwright.sync_api import expect

from tests.browser.choices import choose, expect_chosen, take_out, words
from tests.browser.conftest import PHONE, NewPage, UsedPage
from tests.browser.record_page import RECORD, WHOLE, act, bring, move, said, taken, to_record
from tests.project import project

PAGE = "procedures/safe_functioning.html"
TITLE = "Check the safe functioning"
WORDS = ["done", "does not work", "not done", "does not apply"]
AS_LEFT = ["done", "does not work"]
# What safe functioning takes, of which regulation 26(9)(d) names no parts. Common practice.
PARTS = [
    "Ignition",
    "Flame",
    "Air proving",
    "Flame failure",
    "Thermostat",
    "Overheat device",
    "Spillage or atmosphere device",
    "Overrun",
    "Turn-down",
    "User's controls",
]
FLAME, LIMIT = "safe_functioning.flame", "safe_functioning.limit"
FLUE, HELD = "procedures/flue_room_sealed.html", "room_sealed_flue.supports"
TOUCH = 48


def test_each_part_is_one_of_four_words_and_then_as_left(used_page: UsedPage):
    page = used_page(PAGE, viewport=PHONE)
    lines = page.locator("#steps li[data-hb-options]:not([data-hb-left])")
    assert lines.locator("b").all_text_contents() == PARTS
    for line in lines.all():
        group = line.get_by_role("radiogroup")
        assert group.locator("label").all_text_contents() == WORDS
        assert group.get_attribute("aria-labelledby")
        expect(group.locator("input:checked")).to_have_count(0)
        expect(group.get_by_role("button")).to_have_count(0)  # nothing to take out
        expect(line.locator(".hb-choices")).to_be_hidden()
        for box in (each.bounding_box() for each in group.get_by_role("radio").all()):
            assert box, "a word that cannot be touched"
            assert min(box["width"], box["height"]) >= TOUCH
    left = page.locator("#steps li[data-hb-left]")
    assert left.locator("b").all_text_contents() == [f"{part}, as left" for part in PARTS]
    assert left.locator("label").all_text_contents() == AS_LEFT * len(PARTS)
    assert left.locator("visible=true").count() == 0


def test_what_was_put_right_stays_as_it_was_found(new_page: NewPage):
    """`calcs` says the line; here it is that of both, in the step, the record and the file."""
    page = new_page(FLUE, viewport=PHONE)
    left = page.locator(f'li[data-hb-reading="{HELD}_left"]').first
    line = page.locator('[data-hb-outcome="flue_room_sealed.supports"]')
    expect(left).to_be_hidden()
    choose(page, HELD, "no")
    expect(line).to_contain_text("Outside.")
    expect(line).to_contain_text("Fix it as the instructions say before you leave it on.")
    expect(left).to_be_visible()
    choose(page, f"{HELD}_left", "yes")
    expect(line).to_contain_text("Within, put right.")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    to_record(page)
    beside = "li[data-hb-reading='{}'] [data-hb-line-outcome]"
    expect(page.locator(beside.format(HELD))).to_contain_text("Outside.")
    expect(page.locator(beside.format(f"{HELD}_left"))).to_contain_text("Within, put right.")
    [visit] = json.loads(taken(page, "one"))["visits"]
    kept = {each["step"]: (each["reading"], each["state"]) for each in visit["outcomes"]}
    assert kept == {
        "flue_room_sealed.supports.found": (HELD, "outside"),
        "flue_room_sealed.supports": (f"{HELD}_left", "within"),
    }
    # By the keyboard alone, and out of it again.
    first = words(page, HELD).get_by_role("radio", name="no", exact=True)
    first.focus()
    page.keyboard.press("ArrowLeft")
    expect_chosen(page, HELD, "yes")
    expect(page.locator(beside.format(HELD))).to_contain_text("Within.")
    take_out(page, f"{HELD}_left")
    expect(page.locator(beside.format(f"{HELD}_left"))).to_have_count(0)
    expect(page.locator(f'li[data-hb-reading="{HELD}_left"]').first).to_be_hidden()


def test_what_is_chosen_stays_in_the_record_and_is_taken_along(used_page: UsedPage):
    page = used_page(PAGE, viewport={"width": 390, "height": 844})
    choose(page, FLAME, "done")
    expect(said(page, FLAME)).to_have_text("Kept")
    choose(page, LIMIT, "not done")
    expect(said(page, LIMIT)).to_have_text("Kept")
    expect(page.locator(f'tr[data-hb-kept="{LIMIT}"]')).to_contain_text("not done")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.reload()
    expect_chosen(page, FLAME, "done")
    to_record(page)
    expect_chosen(page, LIMIT, "not done")
    missing = page.locator("[data-hb-missing] li", has_text=TITLE)
    expect(missing).to_contain_text("Spillage or atmosphere device")
    expect(missing).not_to_contain_text("Flame;")
    [visit] = json.loads(taken(page, "one"))["visits"]
    kept = {each["name"]: (each["value"], each["unit"]) for each in visit["readings"]}
    assert kept == {FLAME: ("done", ""), LIMIT: ("not done", "")}
    take_out(page, FLAME)
    expect(said(page, FLAME)).to_have_text("Taken out")
    move(page, PAGE, TITLE)
    expect_chosen(page, FLAME, "")


def test_a_word_that_this_edition_does_not_offer_stays_in_sight(used_page: UsedPage):
    page = used_page(RECORD)
    whole = json.loads(WHOLE.read_text("utf-8"))
    at = whole["visits"][0]["readings"][0]["at"]
    own = {"name": FLAME, "label": "Flame", "value": "steady", "unit": "", "at": at}
    own["appliance"] = "1"
    whole["visits"][0]["readings"].append(own)
    bring(page, json.dumps(whole))
    act(page, "open")
    expect_chosen(page, FLAME, "steady")


def test_paper_has_the_words_to_ring_and_then_the_one_that_was_chosen(new_page: NewPage):
    without = new_page(PAGE, java_script_enabled=False, python=False)
    blank = without.locator(f'li[data-hb-reading="{FLAME}"] .hb-choices')
    expect(blank).to_have_text("done / does not work / not done / does not apply")
    expect(blank).to_be_visible()
    page = new_page(PAGE, python=False)
    choose(page, FLAME, "done")
    expect(said(page, FLAME)).to_have_text("Kept")
    page.emulate_media(media="print")
    expect(page.locator(f'li[data-hb-reading="{FLAME}"] .hb-choices')).to_be_hidden()
    expect(page.locator(f'li[data-hb-reading="{LIMIT}"] .hb-choices')).to_be_visible()


def test_the_invented_visit_chose_for_each_part() -> None:
    visit = project().one("scenario")["readings"]
    chosen = [each["value"] for name, each in visit.items() if name.startswith("safe_functioning.")]
    assert len(chosen) == len(PARTS)
    assert set(chosen) == {"done", "not done", "does not apply"}
