"""The readings of a page as its script checks them while they are typed."""

import json
from collections.abc import Iterable
from typing import Any

from build_tools.pages.shelf import Shelf
from build_tools.reading_ranges import units_of
from calcs.engine.units import short_number, unit_text


def facts(shelf: Shelf, names: Iterable[str]) -> str:
    """JSON: each reading's unit and range, and what may be written for each unit.

    A page without a calculator has no Python to ask, and an answer must come at once.
    """
    # One of a few words that are chosen is no figure.
    known = [
        name
        for name in dict.fromkeys(names)
        if name in shelf.visit_record and "options" not in shelf.visit_record[name]
    ]
    readings: dict[str, Any] = {}
    units: dict[str, Any] = {}
    for name in known:
        unit = shelf.visit_record[name]["unit"]
        text = unit_text(unit)
        low, high = shelf.ranges.get(name, (None, None))
        readings[name] = [text, _end(low), _end(high)]
        if text:
            units[text] = units_of(unit)
    return json.dumps({"readings": readings, "units": units}, ensure_ascii=False, sort_keys=True)


def _end(end: float | None) -> str | None:
    return None if end is None else short_number(end, 9)
