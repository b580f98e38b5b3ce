"""The visit record: what is read stays on this device, fills calculators, can be taken along."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import PATIENCE_MS, STORAGE_FULL, NewPage, UsedPage
from tests.browser.test_pages import faults_in_both_schemes

STEPS = "procedures/before_you_start.html"  # asks for the data plate, and has no calculator
RECORD = "record/visit.html"
WHOLE = Path(__file__).parent.parent / "web" / "visits" / "whole.json"
FIRST = WHOLE.with_name("version_1.json")  # as an edition wrote it that knew no other
INLET, PLATE_INPUT = "plate.inlet_pressure", "plate.heat_input_net"
PLATE_MAX = "plate.burner_pressure_max"

# A browser that gives no place to keep anything, and one whose place is full.
REFUSED = """IDBFactory.prototype.open = () => {
    throw new DOMException('no', 'SecurityError'); };"""
DATABASE_FULL = """IDBObjectStore.prototype.put = () => {
    throw new DOMException('full', 'QuotaExceededError'); };"""


def field(page: Page, name: str) -> Locator:
    """The field of a reading in a step or on the record's page."""
    return page.locator(f'li[data-hb-reading="{name}"] input').first


def said(page: Page, name: str) -> Locator:
    """What stands beside it."""
    return page.locator(f'li[data-hb-reading="{name}"] .hb-kept').first


def keep(page: Page, name: str, text: str) -> None:
    field(page, name).fill(text)
    # A page of many calculators is busy at its start, and so may be the machine.
    expect(said(page, name)).to_have_text("Kept", timeout=PATIENCE_MS)


def move(page: Page, path: str, title: str) -> None:
    """Go there in place, as a reader does."""
    page.locator(f'#hb-nav a[href$="{path}"]').first.evaluate("link => link.click()")
    expect(page.locator("main h1")).to_have_text(title)


def to_record(page: Page) -> None:
    move(page, RECORD, "The visit record")


def visits(page: Page) -> Locator:
    return page.locator("[data-hb-visit]")


def act(page: Page, name: str) -> None:
    page.locator(f'[data-hb-act="{name}"]:visible').first.click()


def taken(page: Page, what: str) -> str:
    """The text of an exported file."""
    with page.expect_download() as download:
        page.locator(f'[data-hb-export="{what}"]').click()
    return Path(download.value.path()).read_text("utf-8")


def bring(page: Page, text: str, name: str = "visits.json") -> Locator:
    """Import a file, and give what is said of it."""
    told = page.locator("[data-hb-import-said]")
    told.evaluate("place => place.replaceChildren()")
    file = {"name": name, "mimeType": "application/json", "buffer": text.encode()}
    page.locator("[data-hb-import]").set_input_files(files=[file])  # type: ignore[list-item]
    expect(told).not_to_be_empty()
    return told


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


def fill_in_a_step(page: Page) -> None:
    """There a calculator takes what the step reads: the gas rate as found, not as left."""
    keep(page, "gas_rate.found_volume", "0.079")
    keep(page, "gas_rate.left_elapsed", "121")
    step = page.locator("[data-hb-step]", has=field(page, "gas_rate.found_volume"))
    step.locator(".hb-fold").first.evaluate("fold => (fold.open = true)")
    step.locator("[data-hb-fill-visit]").click()
    expect(step.locator('hb-calculator [name="volume"]')).to_have_value("0.079")
    expect(step.locator('hb-calculator [name="plate_input"]')).to_have_value("27.0")
    expect(step.locator('hb-calculator [name="elapsed"]')).to_have_value("")


def a_meter_reading_chooses_its_way(page: Page) -> None:
    """The form asks for the gas used until it is told otherwise."""
    page.goto(page.url.replace(RECORD, "procedures/gas_rate.html"))
    keep(page, "gas_rate.index_first", "4271.386")
    page.goto(page.url.replace("procedures", "calculators"))
    rate = CalculatorPage(page, "gas_rate")
    expect(rate.control("first_reading")).to_be_hidden()
    rate.press("data-hb-fill-visit")
    expect(rate.control("first_reading")).to_have_value("4271.386")
    expect(rate.control("first_reading")).to_be_visible()


def test_the_plate_fills_a_calculator_and_its_answer_is_kept_with_its_limit(new_page: NewPage):
    page = new_page("procedures/burner_pressure.html")
    keep(page, PLATE_MAX, "12.5")
    keep(page, PLATE_INPUT, "27.0")
    fill_in_a_step(page)
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    told = form.root.locator("[data-hb-keep-bar] [role=status]")

    # The invented figures never get into a record.
    form.press("data-hb-fill-example")
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Nothing was kept. The form still holds figures of the invented")
    page.reload()
    form.expect_state("answered")
    form.enter(found_max="9.8")
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Nothing was kept")
    expect(told).not_to_contain_text("Maximum, as found")

    form.press("data-hb-clear")
    form.enter(plate_min="0.2")
    form.control("plate_min.unit").select_option(label="kPa")
    form.enter(found_max="9.8", tolerance="0.3")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("12.5")
    expect(form.control("plate_input")).to_have_value("27.0")
    expect(form.control("plate_min")).to_have_value("0.2")
    form.submit()
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Minimum on the data plate 0.2 kPa; Maximum, as found 9.8 mbar")
    # Another figure for the same reading is put in only where the reader says so.
    form.enter(found_max="9.9")
    # By hand: 27.0 × √(9.9 ÷ 12.5) = 24.03.
    form.expect_answer("input_found_max", "24.03\u00a0kW")
    expect(form.root.locator("[data-hb-keep-bar] [role=status]")).to_be_empty()
    form.press("data-hb-keep")
    expect(told).to_contain_text("The record has other figures, which stay: Maximum, as found 9.8")
    form.press("data-hb-keep-anew")
    expect(told).to_have_text("The record has the new figures.")

    to_record(page)
    expect(field(page, "burner_pressure.found_max")).to_have_value("9.9")
    expect(field(page, "plate.burner_pressure_min")).to_have_value("0.2 kPa")
    answers = page.locator("[data-hb-list=kept-answers] > li")
    expect(answers).to_have_count(2)
    expect(answers.first).to_contain_text("Maximum, as found: Does not meet the limit.")
    expect(answers.first).to_contain_text("instructions govern")
    answers.first.get_by_role("button").click()
    expect(answers).to_have_count(1)

    a_meter_reading_chooses_its_way(page)


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


def held(text: str) -> Any:
    """What the visits of a file hold, without when and by which edition it was written."""
    visits = json.loads(text)["visits"]
    for visit in visits:
        for part in visit.values():
            if isinstance(part, list):
                part.sort(key=lambda each: json.dumps(each, sort_keys=True))
    return visits


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


def keep_open(page: Page, name: str, text: str) -> None:
    """Keep a reading whose group may be folded."""
    page.locator("details", has=field(page, name)).evaluate("fold => (fold.open = true)")
    keep(page, name, text)


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
    page = new_page("index.html")
    page.add_init_script(script)
    page.goto(page.url.replace("index.html", STEPS))
    field(page, INLET).fill("20")
    expect(said(page, INLET)).to_contain_text(words)
    expect(said(page, INLET)).to_contain_text("Not kept")
    expect(field(page, INLET)).to_have_value("20")
    to_record(page)
    expect(visits(page)).to_have_count(0)


def test_what_cannot_be_a_reading_is_kept_as_typed_and_marked(used_page: UsedPage):
    page = used_page("procedures/burner_pressure.html")
    told = {
        "abc": "Not usable. It must be a number. Type one number, and after it mbar or no unit.",
        "-3": "Not usable. It must be between 0.05 and 200 mbar.",
        "1e999": "Not usable. It must be a number.",
        "1140 mbar": "between 0.05 and 200 mbar. Check the figure and its unit.",
        "2300 m": "Not usable. It can't be in “m”. Use mbar or another unit of the same kind.",
    }
    line = page.locator(f'li[data-hb-reading="{PLATE_MAX}"]').first
    for text, words in told.items():
        field(page, PLATE_MAX).fill(text)
        expect(said(page, PLATE_MAX)).to_contain_text(words)
        expect(said(page, PLATE_MAX)).to_contain_text(
            "It is kept as you typed it, and no calculator"
        )
        expect(field(page, PLATE_MAX)).to_have_attribute("aria-invalid", "true")
    keep(page, PLATE_INPUT, "27.0")
    page.reload()
    expect(field(page, PLATE_MAX)).to_have_value("2300 m")
    expect(said(page, PLATE_MAX)).to_contain_text("Not usable.")
    expect(page.locator(f'tr[data-hb-kept="{PLATE_MAX}"]')).to_contain_text("2300 m (not usable)")
    page.emulate_media(media="print")
    mark = "place => getComputedStyle(place.querySelector('.hb-blank'), '::after').content"
    assert "not usable" in line.evaluate(mark)
    page.emulate_media(media="screen")

    # No calculator takes it, and the record counts it as missing.
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("")
    expect(form.control("plate_input")).to_have_value("27.0")
    expect(form.root).to_contain_text("Not usable as the visit has it: Maximum on the data plate")
    to_record(page)
    expect(page.locator("details", has=field(page, PLATE_MAX))).to_contain_text("1 of 12")
    assert ",2300,m,not usable," in taken(page, "table")
    page.locator("details", has=field(page, PLATE_MAX)).evaluate("fold => (fold.open = true)")
    keep(page, PLATE_MAX, "1.25 kPa")
    expect(field(page, PLATE_MAX)).not_to_have_attribute("aria-invalid", "true")


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
    page = new_page("404.html", python=False)
    page.add_init_script(STORAGE_FULL)
    page.goto(page.url.replace("404.html", "procedures/tightness_test.html"))
    page.locator("input[data-hb-tick]").first.check()
    expect(page.locator("[data-hb-ticks]")).to_contain_text("The last tick is not kept")
    page.locator("hb-timer [data-hb-start]").first.click()
    bar = page.locator("[data-hb-timers]")
    expect(bar).to_contain_text("Not kept: this browser has no room, or blocks storage")
    expect(bar.locator("[data-hb-timers-said]")).to_contain_text("Not kept: this browser has no")


def test_what_came_from_the_visit_follows_it_and_what_was_typed_stays(used_page: UsedPage):
    page = used_page("procedures/burner_pressure.html")
    keep(page, PLATE_MAX, "12.5")
    keep(page, PLATE_INPUT, "27.0")
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    form.control("plate_min").fill("2.0")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("12.5")
    form.control("plate_input").fill("26.5")  # a person's from now on

    other = page.context.new_page()
    other.goto(page.url.replace("calculators", "procedures"))
    other.wait_for_load_state("load")
    keep(other, PLATE_MAX, "1.3 kPa")
    keep(other, PLATE_INPUT, "30.0")
    keep(other, "plate.burner_pressure_min", "3.0")
    expect(form.control("plate_max")).to_have_value("1.3")
    expect(form.control("plate_max.unit")).to_have_value("kPa")
    expect(form.root).to_contain_text("Changed with the visit: Maximum on the data plate")
    expect(form.control("plate_input")).to_have_value("26.5")
    expect(form.control("plate_min")).to_have_value("2.0")

    # It still follows after a reload, and where it is taken out it goes from here too.
    page.reload()
    keep(other, PLATE_MAX, "12.6")
    expect(form.control("plate_max")).to_have_value("12.6")
    expect(form.control("plate_input")).to_have_value("26.5")
    field(other, PLATE_MAX).fill("")
    expect(form.control("plate_max")).to_have_value("")
    other.close()


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
    plate = page.locator(".hb-sheet__cell", has_text="Maximum heat input, net")
    expect(plate.locator("b")).to_have_text("27.0 kW")
    gauge = page.locator(".hb-sheet__entry", has_text="Blue box, invented")
    expect(gauge).to_contain_text("Number A 17, steps of 0.1 mbar, accurate to 0.5 %")
    expect(gauge).to_contain_text("calibrated until 1 May 2027.")
    expect(field(page, PLATE_MAX)).to_be_hidden()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(page.locator("[data-hb-sheets]")).to_have_count(0)
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
