"""The record on paper: the invented visit on two sides of A4, and a longer one that says so."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from build_tools.setup.paths import ROOT
from build_tools.sources.read_yaml import read_file
from tests.browser.conftest import NewPage
from tests.browser.record_page import RECORD, act, bring
from tests.project import project
from tests.steps.outcome_rows import NUMBER

GOLDEN = read_file(Path(__file__).parent / "paper_golden.yaml", "paper_golden.yaml").value
SCENARIO = project().one("scenario")["readings"]
# The procedures that a repair of the combination boiler calls for: its visit.
BOILER = [
    "before_you_start",
    "tightness_test",
    "working_pressure",
    "burner_pressure",
    "gas_rate",
    "flue_room_sealed",
    "combustion_check",
    "hot_water",
    "heating_circuit",
    "safe_functioning",
    "reseal_and_retest",
    "record_and_handover",
]
ANSWERS = {
    "gas": "natural_gas",
    "appliance": "combination_boiler",
    "burner": "injectors",
    "flue": "room_sealed",
    "work": "repair",
    "age": "existing",
}
NOTES = {
    "appliance": ("Appliance", "Wall-hung combination boiler, invented"),
    "done": (
        "What was done",
        "A bracket fitted at the first elbow. Both burner pressures set to the plate.",
    ),
    "advice": ("Advice and notices", "Look at it again in a year."),
    "instruments": ("Instruments", "A gauge and an analyser, both calibrated this year."),
}
AT = "2026-11-25T09:10:00.000Z"
UNITS = {"percent": "%", "ohm": "Ω"}
PAGE = re.compile(rb"/Type\s*/Page\b")
SMALLEST_PT = 7.6
MOST_OUTCOMES_MS = 120_000
# What is cut, too small, grey or empty on paper.
FAULTS = """smallest => [...document.querySelectorAll('.hb-sheets *')].flatMap(each => {
  if (each.closest('[data-hb-shape]')) return [];
  const look = getComputedStyle(each), own = each.getBoundingClientRect();
  const side = each.closest('.hb-sheet__side').getBoundingClientRect();
  const foot = each.closest('.hb-sheet__side').querySelector('.hb-sheet__foot');
  const isFoot = foot.contains(each) || each.classList.contains('hb-sheet__side');
  const bottom = isFoot ? side.bottom : foot.getBoundingClientRect().top;
  const isNo = each.classList.contains('hb-sheet__word--no');
  const wrong = [];
  if (own.right > side.right + 1 || own.bottom > bottom + 1) wrong.push('cut');
  if (each.scrollWidth > each.clientWidth + 1 && look.display !== 'inline')
    wrong.push('wider than its place');
  if (parseFloat(look.fontSize) * 0.75 < smallest - 0.01) wrong.push('small');
  if (look.color !== (isNo ? 'rgb(255, 255, 255)' : 'rgb(0, 0, 0)')) wrong.push('no black');
  if (!isNo && look.backgroundColor !== 'rgba(0, 0, 0, 0)') wrong.push('a ground of ink');
  if (!each.textContent.trim() && !each.closest('.hb-sheet__row')) wrong.push('empty');
  return wrong.map(what => `${what}: ${each.className} ${each.textContent.slice(0, 40)}`);
})"""


def asked(stem: str) -> set[str]:
    """The readings of a procedure's steps."""
    path = ROOT / "content" / "procedures" / f"{stem}.yaml"
    steps = read_file(path, f"content/procedures/{stem}.yaml").value["steps"]
    each = [step.get("reading", []) for step in steps]
    return {name for one in each for name in ([one] if isinstance(one, str) else one)}


def reading(name: str, entry: dict[str, str]) -> dict[str, str]:
    value, unit = entry["value"], ""
    if NUMBER.match(value):
        value, _, unit = value.partition(" ")
    about = {"name": name, "label": entry["label"], "at": AT}
    return {**about, "value": value, "unit": UNITS.get(unit, unit)}


def visit_of(names: set[str]) -> str:
    """A file of one visit, as version 3 had it: no outcomes, the page works them out."""
    choices = [{"name": name, "value": value, "at": AT} for name, value in ANSWERS.items()]
    notes = [
        {"name": name, "label": label, "text": text, "at": AT}
        for name, (label, text) in NOTES.items()
    ]
    visit = {
        "id": "0" * 31 + "1", "name": "Kitchen boiler", "begun": AT, "closed": None,
        "readings": [reading(name, each) for name, each in SCENARIO.items() if name in names],
        "outcomes": [], "choices": choices, "checks": [], "notes": notes, "answers": [],
    }  # fmt: skip
    head = {"format": "gas-commissioning-visits", "version": 3, "edition": "2026-11-25"}
    return json.dumps({**head, "written": AT, "visits": [visit]})


def opened(new_page: NewPage, names: set[str]) -> Page:
    page = new_page(RECORD, viewport={"width": 1280, "height": 800})
    bring(page, visit_of(names))
    act(page, "open")
    judged = page.locator("[data-hb-line-outcome]")
    judged.nth(60).wait_for(state="attached", timeout=MOST_OUTCOMES_MS)
    last = page.locator('li[data-hb-reading="room_sealed_flue.supports_left"]')
    expect(last.locator("[data-hb-line-outcome]")).to_have_count(1)
    return page


def laid(page: Page) -> None:
    """As the page stands while it is printed."""
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")


def told(cell: Locator) -> str:
    """A cell as the golden writes it: shape, then words."""
    shape = cell.locator("[data-hb-shape]")
    names = {state: name for name, state in GOLDEN["shapes"].items()}
    kind = names[str(shape.get_attribute("data-hb-shape"))] if shape.count() else ""
    text = str(cell.text_content()).replace("\N{NO-BREAK SPACE}", " ")
    return f"{kind} {text}".strip()


def rows(page: Page) -> list[str]:
    found = page.locator(".hb-sheet__row:not(.hb-sheet__row--head)").all()
    return [" | ".join(told(cell) for cell in row.locator("> *").all()) for row in found]


def pairs(page: Page, place: str) -> dict[str, str]:
    """Two words each: what it is of, and what is said."""
    texts = [each.locator("> *").all_text_contents() for each in page.locator(place).all()]
    return {name: text.replace("\N{NO-BREAK SPACE}", " ") for name, text in texts}


@pytest.fixture
def boiler(new_page: NewPage) -> Page:
    return opened(new_page, set().union(*map(asked, BOILER)))


def test_the_invented_visit_takes_two_sides_and_says_what_was_found_and_left(boiler: Page):
    pdf = boiler.pdf(prefer_css_page_size=True, format="A4")
    assert len(PAGE.findall(pdf)) == 2
    laid(boiler)
    sides = boiler.locator(".hb-sheet__side")
    expect(sides).to_have_count(2)
    expect(sides.first.locator(".hb-sheet__head")).to_contain_text("side 1 of 2")
    assert rows(boiler) == GOLDEN["readings"]
    plate = boiler.locator(".hb-sheet__cell").all()
    cells = [" ".join(each.locator("> *").all_text_contents()) for each in plate]
    assert set(GOLDEN["plate"]) <= set(cells)
    expect(boiler.locator(".hb-sheet__summary")).to_contain_text(GOLDEN["summary"])
    entries = pairs(boiler, ".hb-sheet__entry")
    assert {name: entries[name] for name in GOLDEN["not_in_order"]} == GOLDEN["not_in_order"]
    checks = pairs(boiler, ".hb-sheet__check")
    assert len(checks) > 50
    odd = {name: word for name, word in checks.items() if word not in {"yes", "done"}}
    assert odd == GOLDEN["checks"]
    # The mark of what was not in order, and no other.
    expect(boiler.locator(".hb-sheet__word--no")).to_have_text(["no, then yes"])


def test_nothing_is_cut_small_or_grey_on_paper(boiler: Page):
    laid(boiler)
    faults = boiler.evaluate(FAULTS, SMALLEST_PT)
    assert faults == []


def test_more_than_two_sides_say_so_and_lose_nothing(new_page: NewPage):
    page = opened(new_page, set(SCENARIO))
    pdf = page.pdf(prefer_css_page_size=True, format="A4")
    laid(page)
    sides = page.locator(".hb-sheet__side")
    count = sides.count()
    assert count == len(PAGE.findall(pdf)) > 2
    for number in range(count):
        more = ", continued" if number > 1 else ""
        head = sides.nth(number).locator(".hb-sheet__head > *").last
        expect(head).to_have_text(f"Kitchen boiler · side {number + 1} of {count}{more}")
    # What stands in no row of its own still stands there, under its group.
    text = str(page.locator(".hb-sheets").text_content()).replace("\N{NO-BREAK SPACE}", " ")
    for words in ("Depth of the catchment space", "280 mm", "Thermocouple, under load", "14 mV"):
        assert words in text


def test_a_blank_form_and_a_page_without_a_visit_stay_as_they_were(new_page: NewPage):
    page = new_page(RECORD, python=False)
    laid(page)
    expect(page.locator(".hb-sheets")).to_have_count(0)
    expect(page.locator('li[data-hb-reading="burner_pressure.left_max"]')).to_be_visible()
