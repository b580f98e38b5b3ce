"""Where the device keeps nothing, or another window took it away, the record says so."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import STORAGE_FULL, NewPage, UsedPage
from tests.browser.record_page import (
    DATABASE_FULL,
    INLET,
    PLATE_INPUT,
    PLATE_MAX,
    RECORD,
    REFUSED,
    STEPS,
    act,
    field,
    keep,
    keep_open,
    move,
    said,
    to_record,
    visits,
)


@pytest.mark.parametrize(
    ("script", "words"),
    [
        (REFUSED, "the window is private, or this browser blocks storage"),
        (DATABASE_FULL, "no room left"),
    ],
    ids=["refused", "full"],
)
def test_storage_that_is_refused_or_full_is_said_at_once_beside_the_field(
    new_page: NewPage, script, words
):
    page = new_page(STEPS, python=False, before=lambda page: page.add_init_script(script))
    field(page, INLET).fill("20")
    expect(said(page, INLET)).to_contain_text(words)
    expect(said(page, INLET)).to_contain_text("Not kept")
    expect(field(page, INLET)).to_have_value("20")
    to_record(page)
    expect(visits(page)).to_have_count(0)


# Deletes the record underneath the page, as a browser does that makes room, or another window.
DELETED = """() => new Promise((done, failed) => {
    const deleting = indexedDB.deleteDatabase('hb-visits');
    deleting.onsuccess = () => done();
    deleting.onerror = () => failed(deleting.error);
})"""


# A later edition has given the record another form.
NEWER = """() => new Promise((done, failed) => {
    const opening = indexedDB.open('hb-visits', 99);
    opening.onsuccess = () => { opening.result.close(); done(); };
    opening.onerror = () => failed(opening.error);
})"""


def test_a_record_that_is_deleted_underneath_is_not_said_to_be_kept(used_page: UsedPage):
    page = used_page(STEPS)
    keep(page, INLET, "20")
    keep(page, PLATE_INPUT, "27.0")
    other = page.context.new_page()
    other.goto(page.url.replace(STEPS, "404.html"))
    other.evaluate(DELETED)
    other.close()
    expect(said(page, INLET)).to_contain_text("Kept no longer: the record of this device was")
    expect(field(page, INLET)).to_have_value("20")
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Kept no longer")
    keep(page, INLET, "21")
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into “Visit of ")
    # The other field still says what became of it, and holds the only copy.
    expect(said(page, PLATE_INPUT)).to_contain_text("Kept no longer")
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    page.reload()
    expect(field(page, INLET)).to_have_value("21")
    expect(field(page, PLATE_INPUT)).to_have_value("")

    move(page, RECORD, "The visit record")
    page.locator("#hb-written-defects").fill("A torn seal.")
    expect(page.locator('[data-hb-written="defects"] .hb-kept')).to_have_text("Kept")
    page.evaluate(DELETED)
    expect(page.locator("[data-hb-storage-error]")).to_contain_text("Kept no longer")
    expect(page.locator("#hb-written-defects")).to_have_value("A torn seal.")


def test_a_record_of_a_newer_edition_is_told_as_one(used_page: UsedPage):
    page = used_page(STEPS)
    keep(page, INLET, "20")
    page.evaluate(NEWER)
    field(page, INLET).fill("21")
    told = (
        "the record on this device is of a newer edition of this handbook. Nothing of it was lost"
    )
    expect(said(page, INLET)).to_contain_text(told)
    expect(field(page, INLET)).to_have_value("21")
    page.reload()
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text(told)


def test_what_was_typed_into_a_visit_that_is_gone_stays_where_it_is(new_page: NewPage):
    alone = "delete window.BroadcastChannel"  # it hears of no other window
    page = new_page(RECORD, python=False, before=lambda opened: opened.add_init_script(alone))
    defects = page.locator("#hb-written-defects")
    told = page.locator('[data-hb-written="defects"] .hb-kept')
    keep_open(page, INLET, "20")
    defects.fill("A torn seal.")
    expect(told).to_have_text("Kept")
    for place, words, where in (
        (field(page, INLET), "21", said(page, INLET)),
        (defects, "A worn hinge.", told),
    ):
        other = page.context.new_page()
        other.goto(page.url)
        act(other, "delete")
        act(other, "delete-now")
        expect(visits(other)).to_have_count(0)
        other.close()
        place.fill(words)
        expect(where).to_contain_text("Not kept: this visit was deleted in another window.")
        # Something else is kept, in a visit of its own, and takes nothing away.
        keep_open(page, PLATE_MAX, "12.5")
        expect(place).to_have_value(words)
        expect(where).to_contain_text("Type it again, and it goes into a new visit.")
    page.reload()
    expect(field(page, PLATE_MAX)).to_have_value("12.5")
    expect(field(page, INLET)).to_have_value("")
    expect(defects).to_have_value("")


def test_ticks_and_timers_say_when_they_are_not_kept(new_page: NewPage):
    page = new_page(
        "procedures/tightness_test.html",
        python=False,
        before=lambda page: page.add_init_script(STORAGE_FULL),
    )
    page.locator("input[data-hb-tick]").first.check()
    expect(page.locator("[data-hb-ticks]")).to_contain_text("The last tick is not kept")
    page.locator("hb-timer [data-hb-start]").first.click()
    bar = page.locator("[data-hb-timers]")
    expect(bar).to_contain_text("Not kept: this browser has no room, or blocks storage")
    expect(bar.locator("[data-hb-timers-said]")).to_contain_text("Not kept: this browser has no")
