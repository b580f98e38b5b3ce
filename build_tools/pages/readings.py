"""What a page's script checks readings by while they are typed."""

import json
from typing import Any

from build_tools.pages.page_context import PageContext
from build_tools.sources.reading_ranges import units_of
from build_tools.sources.rules.outcome_declared import AS_LEFT
from build_tools.sources.rules.reading_one_state import ANY
from calcs.engine.held_to import listed
from calcs.engine.rounding import short_number
from calcs.engine.units import unit_text


def facts(page_context: PageContext) -> dict[str, Any]:
    """Each reading's unit and range, in which state it is taken, and what each unit may be called.

    A page without a calculator has no Python to ask, and an answer must come at once.

    Returns:
        readings: By name: the unit as people write it, and the ends of the range in it as texts.
            A fourth, 1, where it is the same however the appliance stands, else 0. A fifth, where
            a gauge shows it: the gauge's step. A sixth, 1, where it is a count.
        units: By unit: each spelling with its factor, and what is added after it.
        only_for: By name the answers of a visit that it is asked for, where it is not for all.
        wrong: The words for what is not in order: after one of them how it was left is asked.
    """
    readings: dict[str, Any] = {}
    units: dict[str, Any] = {}
    for name, entry in page_context.visit_record.items():
        if "options" in entry:
            continue  # one of a few words that are chosen is no figure
        text = unit_text(entry["unit"])
        low, high = page_context.ranges.get(name, (None, None))
        same = int(entry.get("state") == ANY)
        step = _end(page_context.gauge_steps.get(name))
        further: list[Any] = [same, step] if step else [1] * same
        if name in page_context.counted:
            further = [same, step or "", 1]
        readings[name] = [text, _end(low), _end(high), *further]
        if text:
            units[text] = units_of(entry["unit"])
    own = {"readings": readings, "units": units, "only_for": _only_for(page_context)}
    return {**own, "wrong": _wrong(page_context)}


def _only_for(page_context: PageContext) -> dict[str, dict[str, list[str]]]:
    return {
        name: {question: listed(options) for question, options in entry["when"].items()}
        for name, entry in page_context.visit_record.items()
        if "when" in entry
    }


def _wrong(page_context: PageContext) -> list[str]:
    """Of a check as it was left the last word says that it still is not in order."""
    words = {
        entry["options"][-1]
        for name, entry in page_context.visit_record.items()
        if name.endswith(AS_LEFT) and "options" in entry
    }
    return sorted(words)


def script(found: dict[str, Any]) -> str:
    """A script that sets them, once for all pages. In a folder a page can load no other file."""
    text = json.dumps(found, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return f"window.hbReadingFacts = {text};\n"


def _end(end: float | None) -> str | None:
    return None if end is None else short_number(end, 9)
