"""A visit as a file that the record brings in: the readings of the invented one, for appliances."""

import json
from collections.abc import Mapping
from typing import Any

from playwright.sync_api import Page

from build_tools.bench.browser import Browser
from build_tools.sources.load_project import load

RECORD = "record/visit.html"
AT = "2026-01-01T09:00:00.000Z"
START_MS = 60_000
OPEN = '[data-hb-act="open"]'
# The first time that a visit is open its steps are judged, which takes a core for a while.
JUDGED_MS = 2500
HEAD = {"format": "gas-commissioning-visits", "version": 4, "edition": "2026-01-01", "written": AT}
PARTS = ("outcomes", "choices", "checks", "ticks", "notes", "answers", "instruments")


def visit(name: str, appliances: int, most: int) -> dict[str, Any]:
    """A visit with the first of the readings, each once for each appliance or once for all.

    Args:
        name: What it is called.
        appliances: How many it has.
        most: How many readings it has, no more.
    """
    project = load()
    given, known = project.one("scenario")["readings"], project.one("visit_record")
    readings = [
        _reading(each, given[each], known[each], owner)
        for each in known
        if each in given
        for owner in ([""] if "shared" in known[each] else map(str, range(1, appliances + 1)))
    ]
    owners = [
        {"id": str(number), "name": f"Appliance {number}", "at": AT}
        for number in range(1, appliances + 1)
    ]
    about = {"id": f"{most:032x}", "name": name, "begun": AT, "closed": None}
    empty: dict[str, list[Any]] = {part: [] for part in PARTS}
    return {**about, **empty, "appliances": owners, "readings": readings[:most]}


def _reading(
    name: str, given: Mapping[str, str], known: Mapping[str, Any], owner: str
) -> dict[str, str]:
    value, _, unit = given["value"].partition(" ") if known["unit"] else (given["value"], "", "")
    about = {"name": name, "label": str(known["label"]), "at": AT, "appliance": owner}
    return {**about, "value": value, "unit": unit}


def bring(browser: Browser, *visits: dict[str, Any]) -> Page:
    """The page of the record, with these visits brought in. None is open yet."""
    page = browser.page(RECORD)
    text = json.dumps({**HEAD, "visits": visits})
    about = {"name": "visits.json", "mimeType": "application/json"}
    page.locator("[data-hb-import]").set_input_files(
        files=[{**about, "buffer": text.encode()}]  # type: ignore[list-item]
    )
    for each in visits:
        to_open(page, each["name"]).wait_for(timeout=START_MS)
    return page


def to_open(page: Page, name: str) -> Any:
    """The button that opens a visit, in the list of the record."""
    return page.locator("[data-hb-visit]", has_text=name).locator(OPEN)


def open_one(page: Page, name: str) -> None:
    """Open a visit, and let its steps be judged."""
    to_open(page, name).click()
    page.wait_for_timeout(JUDGED_MS)
