"""The record of several appliances on paper: each its own part, and once what all share."""

from __future__ import annotations

import json

from playwright.sync_api import Locator, Page, expect

from tests.browser import printed_record
from tests.browser.brought_visit import MOST_OUTCOMES_MS, reading
from tests.browser.conftest import NewPage
from tests.browser.record_page import RECORD, act, bring
from tests.drawn import back_boiler, premix, water_heater
from tests.drawn.visit import Drawn
from tests.project import project

AT = "2026-11-25T09:10:00.000Z"
NAMES = {"1": "Bathroom heater", "2": "Kitchen combi", "3": "Front-room back boiler"}
VISITS = dict(zip(NAMES, (water_heater.draw(2), premix.draw(11), back_boiler.draw(5)), strict=True))
KNOWN = project().one("visit_record")
SHARED_ANSWERS = {"gas", "age"}
DEFECT = "Its lockshield is stiff."


def entries(visit: Drawn, appliance: str) -> list[dict[str, str]]:
    """Its readings; what all share is the first one's."""
    found = []
    for name, text in visit.readings.items():
        is_shared = "shared" in KNOWN[name]
        if is_shared and appliance != "1":
            continue
        each = reading(name, {"label": KNOWN[name]["label"], "value": text})
        found.append({**each, "at": AT, "appliance": "" if is_shared else appliance})
    return found


def file_of() -> str:
    """A file of the three: no outcomes, the page works them out."""
    choices = [
        {
            "name": name,
            "value": value,
            "at": AT,
            "appliance": "" if name in SHARED_ANSWERS else appliance,
        }
        for appliance, visit in VISITS.items()
        for name, value in visit.answers.items()
        if appliance == "1" or name not in SHARED_ANSWERS
    ]
    note = {"name": "defects", "label": "Defects", "text": DEFECT, "at": AT, "appliance": "3"}
    visit = {
        "id": "0" * 31 + "3", "name": "Three, invented", "begun": AT, "closed": None,
        "appliances": [{"id": one, "name": name, "at": AT} for one, name in NAMES.items()],
        "readings": [each for one, visit in VISITS.items() for each in entries(visit, one)],
        "outcomes": [], "choices": choices, "checks": [], "ticks": [], "notes": [note],
        "answers": [], "instruments": [],
    }  # fmt: skip
    head = {"format": "gas-commissioning-visits", "version": 4, "edition": "2026-11-25"}
    return json.dumps({**head, "written": AT, "visits": [visit]})


def part(page: Page, title: str) -> Locator:
    return page.locator(".hb-printed__side", has=page.locator(".hb-printed__head", has_text=title))


def words(place: Locator) -> str:
    return " ".join(place.all_text_contents()).replace("\N{NO-BREAK SPACE}", " ")


def test_each_appliance_has_its_part_and_what_all_share_stands_once(new_page: NewPage):
    page = new_page(RECORD, viewport={"width": 1280, "height": 800})
    bring(page, file_of())
    act(page, "open")
    # The last appliance is judged last: chosen, it shows the outcome of its last check.
    page.locator("[data-hb-appliance]").filter(has_text=NAMES["3"]).click()
    last = page.locator('li[data-hb-reading="handover.controls_shown"] [data-hb-line-outcome]')
    expect(last).to_have_count(1, timeout=MOST_OUTCOMES_MS)
    pdf = page.pdf(prefer_css_page_size=True, format="A4")
    printed_record.laid(page)
    sides = page.locator(".hb-printed__side")
    assert printed_record.sides(pdf) == sides.count()
    assert printed_record.faults(page) == []

    heads = [
        str(each.text_content()) for each in sides.locator(".hb-printed__head > :last-child").all()
    ]
    shared = "Three, invented · what all share"
    own = [f"{name} · appliance {place} of 3" for place, name in enumerate(NAMES.values(), 1)]
    titles = [head.partition(" · side ")[0] for head in heads]
    assert list(dict.fromkeys(titles)) == [shared, *own]  # each begins a side of its own
    assert titles.count(shared) == 1
    assert max(titles.count(each) for each in own) == 2

    for (one, visit), title in zip(VISITS.items(), own, strict=True):
        text = words(part(page, title))
        mine = [each for each in entries(visit, one) if each["appliance"] == one]
        assert [each["name"] for each in mine if each["value"] not in text] == []
        plate = visit.readings["plate.heat_input_net"]
        cell = part(page, title).locator(".hb-printed__cell", has_text="Maximum heat input, net")
        expect(cell.locator("b")).to_have_text(plate)
        assert (DEFECT in text) is (one == "3")
    # The meter was read once for all, and the pipework tested once.
    text = words(part(page, shared))
    of_all = [each for each in entries(VISITS["1"], "1") if not each["appliance"]]
    assert [each["name"] for each in of_all if each["value"] not in text] == []
    for line in ("Let-by", "Meter outlet, standing"):
        row = page.locator(".hb-printed__row > :first-child").get_by_text(line, exact=True)
        expect(row).to_have_count(1)
