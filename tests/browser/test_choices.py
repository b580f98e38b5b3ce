"""A reading of which a word is chosen: into the record, out of it again, and on paper."""

from __future__ import annotations

import json

from playwright.sync_api import Locator, Page, expect

from build_tools.sources.project import load
from tests.browser.conftest import NewPage, UsedPage
from tests.browser.test_record import RECORD, WHOLE, act, bring, move, said, taken, to_record

PAGE = "procedures/safe_functioning.html"
TITLE = "Check the safe functioning"
WORDS = ["done", "not done", "does not apply"]
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


def choice(page: Page, name: str) -> Locator:
    return page.locator(f'li[data-hb-reading="{name}"] select').first


def test_each_part_is_done_or_not_done_or_does_not_apply(used_page: UsedPage):
    page = used_page(PAGE)
    lines = page.locator("#steps li[data-hb-options]")
    assert lines.locator("label b").all_text_contents() == PARTS
    for line in lines.all():
        assert line.locator("option").all_text_contents() == ["", *WORDS]
        expect(line.locator("select")).to_have_value("")
        expect(line.locator(".hb-choices")).to_be_hidden()


def test_what_is_chosen_stays_in_the_record_and_is_taken_along(used_page: UsedPage):
    page = used_page(PAGE, viewport={"width": 390, "height": 844})
    choice(page, FLAME).select_option("done")
    expect(said(page, FLAME)).to_have_text("Kept")
    choice(page, LIMIT).select_option("not done")
    expect(said(page, LIMIT)).to_have_text("Kept")
    expect(page.locator(f'tr[data-hb-kept="{LIMIT}"]')).to_contain_text("not done")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.reload()
    expect(choice(page, FLAME)).to_have_value("done")
    to_record(page)
    expect(choice(page, LIMIT)).to_have_value("not done")
    missing = page.locator("[data-hb-missing] li", has_text=TITLE)
    expect(missing).to_contain_text("Spillage or atmosphere device")
    expect(missing).not_to_contain_text("Flame;")
    [visit] = json.loads(taken(page, "one"))["visits"]
    kept = {each["name"]: (each["value"], each["unit"]) for each in visit["readings"]}
    assert kept == {FLAME: ("done", ""), LIMIT: ("not done", "")}
    choice(page, FLAME).select_option("")
    expect(said(page, FLAME)).to_have_text("Taken out")
    move(page, PAGE, TITLE)
    expect(choice(page, FLAME)).to_have_value("")


def test_a_word_that_this_edition_does_not_offer_stays_in_sight(used_page: UsedPage):
    page = used_page(RECORD)
    whole = json.loads(WHOLE.read_text("utf-8"))
    at = whole["visits"][0]["readings"][0]["at"]
    own = {"name": FLAME, "label": "Flame", "value": "steady", "unit": "", "at": at}
    whole["visits"][0]["readings"].append(own)
    bring(page, json.dumps(whole))
    act(page, "open")
    expect(choice(page, FLAME)).to_have_value("steady")


def test_paper_has_the_words_to_ring_and_then_the_one_that_was_chosen(new_page: NewPage):
    without = new_page(PAGE, java_script_enabled=False, python=False)
    blank = without.locator(f'li[data-hb-reading="{FLAME}"] .hb-choices')
    expect(blank).to_have_text("done / not done / does not apply")
    expect(blank).to_be_visible()
    page = new_page(PAGE, python=False)
    choice(page, FLAME).select_option("done")
    expect(said(page, FLAME)).to_have_text("Kept")
    page.emulate_media(media="print")
    expect(page.locator(f'li[data-hb-reading="{FLAME}"] .hb-choices')).to_be_hidden()
    expect(page.locator(f'li[data-hb-reading="{LIMIT}"] .hb-choices')).to_be_visible()


def test_the_invented_visit_chose_for_each_part() -> None:
    visit = load().one("scenario")["readings"]
    chosen = [each["value"] for name, each in visit.items() if name.startswith("safe_functioning.")]
    assert len(chosen) == len(PARTS)
    assert set(chosen) == set(WORDS)
