"""A file of the invented visit, to be brought into the record."""

from __future__ import annotations

import json

from tests.drawn.invented import ANSWERS, NOTES
from tests.project import project
from tests.steps.outcome_rows import NUMBER

SCENARIO = project().one("scenario")["readings"]
LABELS = {
    "appliance": "Appliance",
    "done": "What was done",
    "advice": "Advice and notices",
    "instruments": "Instruments",
}
AT = "2026-11-25T09:10:00.000Z"
UNITS = {"percent": "%", "ohm": "Ω"}
MOST_OUTCOMES_MS = 120_000


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
        {"name": name, "label": LABELS[name], "text": text, "at": AT}
        for name, text in NOTES.items()
    ]
    visit = {
        "id": "0" * 31 + "1", "name": "Kitchen boiler", "begun": AT, "closed": None,
        "readings": [reading(name, each) for name, each in SCENARIO.items() if name in names],
        "outcomes": [], "choices": choices, "checks": [], "notes": notes, "answers": [],
    }  # fmt: skip
    head = {"format": "gas-commissioning-visits", "version": 3, "edition": "2026-11-25"}
    return json.dumps({**head, "written": AT, "visits": [visit]})
