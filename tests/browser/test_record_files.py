"""A visit goes out as a file and comes back as it was; a damaged file changes nothing."""

from __future__ import annotations

import json
from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.conftest import UsedPage
from tests.browser.record_page import (
    PLATE_INPUT,
    RECORD,
    WHOLE,
    act,
    bring,
    field,
    held,
    taken,
    visits,
)

FIRST = WHOLE.with_name("version_1.json")  # as an edition wrote it that knew no other


def test_a_visit_is_exported_deleted_and_brought_back_as_it_was(used_page: UsedPage):
    page = used_page(RECORD)
    told = bring(page, WHOLE.read_text("utf-8"))
    expect(told).to_have_text("“The invented visit” is imported.")
    act(page, "open")
    expect(field(page, PLATE_INPUT)).to_have_value("27.0")
    expect(page.locator("[data-hb-unknown]")).to_contain_text("A reading of another edition")
    verdicts = page.locator("[data-hb-kept-verdicts] b")
    expect(verdicts.first).to_have_text("Maximum, as found: Does not meet the limit.")
    expect(verdicts.last).to_have_text("Which end to set first: In order.")
    exported = taken(page, "one")
    assert held(exported) == held(WHOLE.read_text("utf-8"))
    assert "The invented visit,Appliance 1,Reading,Data plate," in taken(page, "table")

    act(page, "delete")
    expect(page.locator("[data-hb-sure]:visible")).to_contain_text(
        "Delete “The invented visit” with 5 readings, 1 answer, 1 note?"
    )
    act(page, "spare")
    expect(visits(page)).to_have_count(1)
    act(page, "delete")
    act(page, "delete-now")
    expect(visits(page)).to_have_count(0)
    expect(field(page, PLATE_INPUT)).to_have_value("")
    left = page.evaluate(COUNTED)
    assert left == 0

    bring(page, exported)
    assert held(taken(page, "all")) == held(exported)
    expect(bring(page, exported)).to_contain_text("is here already, just the same")
    other = exported.replace('"27.0"', '"30.0"')
    told = bring(page, other)
    expect(told).to_contain_text("differs. Both are kept: the one from the file is")
    expect(visits(page)).to_have_count(2)
    names = [visit["name"] for visit in json.loads(taken(page, "all"))["visits"]]
    assert sorted(names) == ["The invented visit", "The invented visit (2)"]


# A device on which the first version kept visits, with what a file of that version holds.
FIRST_VERSION = """({visits}) => new Promise((done, failed) => {
    const opening = indexedDB.open('hb-visits', 1);
    opening.onerror = () => failed(opening.error);
    opening.onupgradeneeded = () => {
        const database = opening.result;
        database.createObjectStore('visits', {keyPath: 'id'});
        const entries = database.createObjectStore('entries', {keyPath: ['visit', 'key']});
        entries.createIndex('visit', 'visit');
        database.createObjectStore('state');
    };
    opening.onsuccess = () => {
        const database = opening.result;
        const all = database.transaction(['visits', 'entries', 'state'], 'readwrite');
        for (const {readings, notes, answers, ...visit} of visits) {
            all.objectStore('visits').put(visit);
            all.objectStore('state').put(visit.id, 'open');
            const keep = (key, kind, each) => all.objectStore('entries').put(
                {visit: visit.id, key, kind, ...each});
            for (const each of readings) keep(`reading:${each.name}`, 'reading', each);
            for (const each of notes) keep(`note:${each.name}`, 'note', each);
            for (const each of answers) {
                keep(`answer:${each.at}:${each.calculator}`, 'answer', each);
            }
        }
        all.oncomplete = () => { database.close(); done(); };
    };
})"""


def test_what_the_first_version_kept_or_wrote_is_read(used_page: UsedPage):
    page = used_page("404.html")
    text = FIRST.read_text("utf-8")
    page.evaluate(FIRST_VERSION, json.loads(text))
    page.goto(page.url.replace("404.html", RECORD))
    expect(page.locator("[data-hb-kept-verdicts]")).to_contain_text("instructions govern")
    exported = taken(page, "one")
    [whole] = held(WHOLE.read_text("utf-8"))
    newer = {
        part: [] for part in ("outcomes", "choices", "checks", "ticks", "instruments")
    }  # than the first
    assert held(exported) == [{**whole, **newer}]
    assert json.loads(exported)["version"] == 4
    expect(bring(page, text)).to_contain_text("is here already, just the same")


# How many fields are left in the place where visits are kept.
COUNTED = """() => new Promise((tell) => {
    const opening = indexedDB.open('hb-visits');
    opening.onsuccess = () => {
        const database = opening.result;
        const asked = database.transaction('entries').objectStore('entries').count();
        asked.onsuccess = () => { database.close(); tell(asked.result); };
    };
})"""


def half(text: str) -> str:
    return text[: len(text) // 2]


BROKEN: dict[str, tuple[Callable[[str], str], str]] = {
    "half": (half, "the file: found it can't be read"),
    "foreign": (lambda _: '{"visits": []}', "format: found nothing; expected"),
    "newer": (lambda text: text.replace('"version": 4', '"version": 5'), "Get the newest edition"),
    "wrong": (lambda text: text.replace('"unit": "kW", ', ""), "readings[0].unit: found nothing"),
    "huge": (lambda text: text + " " * 5_000_000, "expected at most 5.0 MB"),
}


def test_a_damaged_file_changes_nothing_and_says_why(used_page: UsedPage):
    page = used_page(RECORD)
    text = WHOLE.read_text("utf-8")
    bring(page, text)
    before = held(taken(page, "all"))
    for spoil, words in BROKEN.values():
        told = bring(page, spoil(text))
        expect(told).to_contain_text("Nothing was imported from visits.json, and nothing here was")
        expect(told).to_contain_text(words)
    assert held(taken(page, "all")) == before
