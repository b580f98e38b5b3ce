"""The visit record as a reader handles it: its fields, its visits, its files."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import PATIENCE_MS

STEPS = "procedures/before_you_start.html"  # asks for the data plate, and has no calculator
RECORD = "record/visit.html"
WHOLE = Path(__file__).parent.parent / "web" / "visits" / "whole.json"
INLET, PLATE_INPUT = "plate.inlet_pressure", "plate.heat_input_net"
PLATE_MAX = "plate.burner_pressure_max"


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


def held(text: str) -> Any:
    """What the visits of a file hold, without when and by which edition it was written."""
    visits = json.loads(text)["visits"]
    for visit in visits:
        for part in visit.values():
            if isinstance(part, list):
                part.sort(key=lambda each: json.dumps(each, sort_keys=True))
    return visits


def keep_open(page: Page, name: str, text: str) -> None:
    """Keep a reading whose group may be folded."""
    page.locator("details", has=field(page, name)).evaluate("fold => (fold.open = true)")
    keep(page, name, text)


# A browser that gives no place to keep anything, and one whose place is full.
REFUSED = """IDBFactory.prototype.open = () => {
    throw new DOMException('no', 'SecurityError'); };"""


DATABASE_FULL = """IDBObjectStore.prototype.put = () => {
    throw new DOMException('full', 'QuotaExceededError'); };"""
