"""Appliance cards: typed once, picked by a visit, shown at the step, marked as the reader's."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import faults, show
from tests.browser.burner_pressure_steps import PLATE, PRESSURE, TOLERANCE, outcome
from tests.browser.conftest import PHONE, NewPage, UsedPage
from tests.browser.record_page import (
    DATABASE_FULL,
    RECORD,
    REFUSED,
    bring,
    field,
    keep,
    keep_open,
    move,
    taken,
)

CARDS = "cards/appliance_cards.html"
TITLE = "Appliance cards"
FILE = Path(__file__).parent.parent / "web" / "visits" / "cards.json"
LEFT = "burner_pressure.left_max"
NAME = "Cellar boiler"


def listed(page: Page) -> Locator:
    return page.locator("[data-hb-card-id]")


def said(page: Page) -> Locator:
    return page.locator("[data-hb-cards-said]")


def act(page: Page, name: str) -> None:
    listed(page).first.locator(f'[data-hb-card-act="{name}"]').click()


def line(page: Page, name: str) -> Locator:
    """What is typed into a field of the form."""
    return page.locator(f'[data-hb-card-field="{name}"] [data-hb-card-text]')


def take_in(page: Page, text: str | None = None, name: str = "cards.json") -> Locator:
    """Import a file of cards, and give what is said of it."""
    told = page.locator("[data-hb-cards-import-said]")
    told.evaluate("place => place.replaceChildren()")
    data = (text or FILE.read_text("utf-8")).encode()
    file = {"name": name, "mimeType": "application/json", "buffer": data}
    page.locator("[data-hb-cards-import]").set_input_files(files=[file])  # type: ignore[list-item]
    expect(told).not_to_be_empty()
    return told


def words_in(page: Page, step: str) -> Locator:
    return page.locator(f"#step-{step} [data-hb-card-words]")


def use(page: Page) -> None:
    """On the page of cards: the card is used in a visit that has a reading."""
    act(page, "use")
    expect(said(page)).to_contain_text(f"goes by “{NAME}”")


def with_visit(page: Page) -> None:
    """From the record's page to that of cards, with a visit open and a card there."""
    keep_open(page, "gas_rate.elapsed", "121")
    move(page, CARDS, TITLE)
    expect(take_in(page)).to_contain_text(f"“{NAME}” is imported.")
    expect(listed(page)).to_have_count(1)


def test_a_card_is_written_kept_changed_and_deleted_once_it_was_asked(used_page: UsedPage):
    page = used_page(CARDS, viewport=PHONE)
    expect(page.locator("[data-hb-cards-none]")).to_be_visible()
    keeps = page.get_by_role("button", name="Keep the card")
    told = page.locator("[data-hb-card-form-said]")
    keeps.click()
    expect(told).to_have_text("Not kept yet: give the card a name.")
    page.locator("[data-hb-card-name]").fill(NAME)
    keeps.click()
    expect(told).to_contain_text("say which edition of the instructions")
    page.locator("[data-hb-card-edition]").fill("7, March 2024")
    line(page, "pressure_max").fill("twelve")
    expect(page.locator('[data-hb-card-field="pressure_max"]')).to_contain_text(
        "Not usable. It must be a number."
    )
    line(page, "pressure_max").fill("12.5")
    line(page, "to_maximum").fill("Hold <b>both</b> buttons.")
    # A page that is left by mistake takes nothing along.
    page.reload()
    expect(line(page, "to_maximum")).to_have_value("Hold <b>both</b> buttons.")
    page.locator('[data-hb-card-field="to_maximum"] [data-hb-card-page]').fill("31")
    keeps.click()
    expect(told).to_have_text(f"“{NAME}” is kept.")
    expect(listed(page)).to_have_count(1)
    listed(page).locator("summary").click()
    expect(listed(page)).to_contain_text("Hold <b>both</b> buttons. page 31")
    expect(listed(page)).to_contain_text("12.5\xa0mbar")

    act(page, "change")
    expect(line(page, "pressure_max")).to_have_value("12.5")
    line(page, "pressure_max").fill("12.6")
    keeps.click()
    expect(listed(page)).to_have_count(1)
    expect(listed(page)).to_contain_text("12.6\xa0mbar")
    act(page, "copy")
    expect(listed(page)).to_have_count(2)
    act(page, "delete")
    expect(page.locator("[data-hb-sure]:visible")).to_contain_text("can't be brought back")
    act(page, "spare")
    expect(listed(page)).to_have_count(2)
    act(page, "delete")
    act(page, "delete-now")
    expect(listed(page)).to_have_count(1)


def test_a_card_fills_the_plate_speaks_in_its_steps_and_says_which_way(new_page: NewPage):
    page = new_page(RECORD, viewport=PHONE)
    with_visit(page)
    use(page)
    move(page, PRESSURE, "Set the burner pressure")
    expect(field(page, PLATE)).to_have_value("12.5")
    plate = page.locator(f'li[data-hb-reading="{PLATE}"]').first
    expect(plate).to_contain_text("Your card · edition 7, March 2024, page 4")
    expect(words_in(page, "run-maximum")).to_contain_text(
        "Your card · instructions edition 7, March 2024, page 31"
    )
    expect(words_in(page, "run-maximum")).to_contain_text("Hold <b>both</b> buttons.")
    expect(words_in(page, "zero-gauge")).to_have_count(0)
    # After the caution of the step, before its field or what is folded.
    order = page.locator("#step-set-maximum .hb-task__body > *").evaluate_all(
        "parts => parts.map((part) => [...part.classList, ...Object.keys(part.dataset)][0])"
    )
    assert order[:2] == ["hb-warning", "hbCardWords"]
    assert page.locator("#step-set-maximum [data-hb-card-words] > *").count() == 3
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]

    # This adjuster turns the unusual way. Hand sum: 12.5 - 11.9 = 0.6.
    keep(page, LEFT, "11.9")
    expect(outcome(page, "recheck_maximum")).to_contain_text("Outside, low by 0.6 mbar.")
    expect(outcome(page, "recheck_maximum")).to_contain_text("Anticlockwise, a little.")
    expect(outcome(page, "recheck_maximum")).to_contain_text(
        "Your card says that clockwise lowers."
    )
    # What a hand types is the hand's.
    keep(page, PLATE, "12.6")
    expect(plate).not_to_contain_text("Your card")

    move(page, RECORD, "The visit record")
    [visit] = json.loads(taken(page, "one"))["visits"]
    cards = {each["name"]: each.get("from_card") for each in visit["readings"]}
    assert cards[PLATE] is None
    assert cards[TOLERANCE] == "edition 7, March 2024, page 31"
    assert visit["appliances"][0]["card"]["name"] == NAME
    assert ",Appliance card," in taken(page, "table")
    told = bring(page, json.dumps(json.loads(taken(page, "one"))))
    expect(told).to_contain_text("just the same")

    # Without the card its words and its figures go, and what a hand typed stays.
    move(page, "visit/checks_in_order.html", "Checks in order")
    page.locator("[data-hb-appliance-forms]").evaluate("fold => (fold.open = true)")
    page.locator("[data-hb-card-choice]").select_option("")
    expect(page.locator("[data-hb-appliance-said]")).to_contain_text("goes by no card.")
    move(page, RECORD, "The visit record")
    expect(field(page, TOLERANCE)).to_have_value("")
    expect(field(page, PLATE)).to_have_value("12.6")
    move(page, PRESSURE, "Set the burner pressure")
    expect(field(page, PLATE)).to_have_value("12.6")
    expect(page.locator("[data-hb-card-words]")).to_have_count(0)


def test_the_invented_card_speaks_and_fills_nothing(used_page: UsedPage):
    page = used_page(RECORD)
    keep_open(page, "gas_rate.elapsed", "121")
    move(page, CARDS, TITLE)
    page.locator("[data-hb-card-copy-invented]").click()
    expect(listed(page)).to_contain_text("invented")
    act(page, "use")
    expect(said(page)).to_contain_text("It is invented and fills no reading.")
    move(page, PRESSURE, "Set the burner pressure")
    expect(words_in(page, "run-maximum").first).to_contain_text("Invented card · instructions")
    expect(field(page, PLATE)).to_have_value("")


def test_cards_are_taken_along_and_a_damaged_file_changes_nothing(used_page: UsedPage):
    page = used_page(CARDS)
    take_in(page)
    with page.expect_download() as download:
        page.locator("[data-hb-cards-export]").click()
    exported = Path(download.value.path()).read_text("utf-8")
    assert json.loads(exported)["cards"] == json.loads(FILE.read_text("utf-8"))["cards"]
    expect(take_in(page, exported)).to_contain_text("is here already, just the same")
    expect(take_in(page, exported.replace('"12.5"', '"13.5"'))).to_contain_text("differs. Both are")
    expect(listed(page)).to_have_count(2)
    for text, words in (
        (exported[: len(exported) // 2], "the file: found it can't be read"),
        (exported.replace('"version": 1', '"version": 2'), "Get the newest edition"),
        (exported.replace('"page": "4"', '"leaf": "4"'), "lines[0].page: found nothing"),
    ):
        told = take_in(page, text)
        expect(told).to_contain_text("Nothing was imported from cards.json, and nothing here was")
        expect(told).to_contain_text(words)
    expect(listed(page)).to_have_count(2)


@pytest.mark.parametrize(
    ("script", "words"),
    [
        (REFUSED, "the window is private, or this browser blocks storage"),
        (DATABASE_FULL, "no room"),
    ],
    ids=["refused", "full"],
)
def test_where_nothing_can_be_kept_it_is_said_and_the_form_stays(new_page: NewPage, script, words):
    page = new_page(CARDS, python=False, before=lambda page: page.add_init_script(script))
    page.locator("[data-hb-card-name]").fill(NAME)
    page.locator("[data-hb-card-edition]").fill("7")
    line(page, "tools").fill("A key.")
    page.get_by_role("button", name="Keep the card").click()
    expect(page.locator("[data-hb-card-form-said]")).to_contain_text(words)
    expect(line(page, "tools")).to_have_value("A key.")


def test_without_a_script_it_says_what_a_card_holds(new_page: NewPage):
    page = new_page(CARDS, java_script_enabled=False)
    expect(page.locator("#invented")).to_contain_text("Hold both buttons for 5 s.")
    expect(line(page, "to_maximum")).to_be_visible()
    expect(page.locator("noscript .hb-note")).to_be_visible()
    expect(page.get_by_role("button", name="Keep the card")).to_be_hidden()


def test_axe_finds_nothing_and_all_is_large_enough_to_touch(used_page: UsedPage):
    page = used_page(CARDS, viewport=PHONE, color_scheme="light")
    take_in(page)
    listed(page).locator("summary").click()
    act(page, "delete")
    for scheme in ("light", "dark"):
        show(page, scheme)
        assert faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    small = page.evaluate(
        """() => [...document.querySelectorAll('main *')]
            .filter((each) => each.matches('input, button, textarea, select, summary'))
            .filter((each) => each.offsetParent && each.offsetHeight < 48)
            .map((each) => each.outerHTML)"""
    )
    assert small == []


def test_a_card_is_used_by_keyboard(used_page: UsedPage):
    page = used_page(RECORD)
    with_visit(page)
    listed(page).locator('[data-hb-card-act="use"]').focus()
    page.keyboard.press("Enter")
    expect(said(page)).to_contain_text("goes by “Cellar boiler”. 3 readings filled.")
    listed(page).locator("summary").focus()
    page.keyboard.press("Enter")
    expect(listed(page).locator("dl")).to_be_visible()
