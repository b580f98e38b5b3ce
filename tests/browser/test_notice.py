"""The draft of a notice: kept in the record, exported, printed, with the last day counted out."""

from __future__ import annotations

import json

from playwright.sync_api import expect

from tests.browser.choices import choose
from tests.browser.conftest import NewPage
from tests.browser.record_page import taken, to_record

PAGE = "procedures/unsafe_situations.html"
# RIDDOR 2013 regulation 11(2), 14 days: information on 1 March, due by 15 March.
KNOWN, LAST = "2026-03-01", "15 March 2026: 14 days from 1 March 2026."


def test_the_draft_of_a_notice_is_kept_and_its_last_day_counted_out(new_page: NewPage):
    page = new_page(PAGE, viewport={"width": 390, "height": 844})
    draft = page.locator("#notice")
    expect(draft).to_contain_text("It is not the notice itself")
    told = draft.locator("[data-hb-last-day]")
    expect(told).to_be_hidden()
    draft.get_by_label("who was told").fill("The tenant, at ten o'clock")
    draft.get_by_label("the day on which you knew").fill(KNOWN)
    expect(told).to_contain_text(LAST)
    choose(page, "unsafe.kind", "At Risk")
    choose(page, "unsafe.permission", "refused")
    answer = page.locator('[data-hb-outcome="unsafe_situations.ask"]')
    expect(answer).to_contain_text("Label it and leave the notice.")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    to_record(page)
    expect(page.locator("[data-hb-last-day]")).to_contain_text(LAST)
    [visit] = json.loads(taken(page, "one"))["visits"]
    notes = {each["name"]: each["text"] for each in visit["notes"]}
    assert notes["unsafe_known"] == KNOWN
    assert notes["unsafe_told"] == "The tenant, at ten o'clock"
    assert LAST in notes["unsafe_report_by"]
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    paper = page.locator(".hb-printed")
    expect(paper).to_contain_text("a draft and arithmetic, not the notice itself")
    for words in (LAST, "The tenant, at ten o'clock", "At Risk", "refused"):
        expect(paper).to_contain_text(words)
