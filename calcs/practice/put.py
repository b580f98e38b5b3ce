"""A question as it is put to somebody, and what a right answer to it would be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import parse_unit, unit_text
from calcs.practice import marking
from calcs.practice.choices import filled
from calcs.practice.draw import Question
from calcs.practice.gauges.drawn import drawing
from calcs.practice.gauges.live import bench
from calcs.practice.pack import Pack

# Units that an answer may be typed in beside its own, in pint's words. What is read has a unit to
# choose, so each that a gauge may show has others.
ALSO = {
    "mbar": ("Pa", "kPa", "inWG"),
    "Pa": ("mbar", "kPa"),
    "kPa": ("mbar", "Pa"),
    "bar": ("mbar", "kPa"),
    "kW": ("W", "Btu/h"),
    "m**3/h": ("ft**3/h", "litre/min"),
    "m**3": ("litre", "ft**3"),
    "litre": ("m**3",),
    "litre/min": ("litre/s", "m**3/h"),
    "s": ("min",),
    "min": ("s",),
    "cm**2": ("mm**2",),
    "mm": ("m", "inch"),
    "m": ("mm", "ft"),
    "ft**3": ("m**3", "litre"),
    "inWG": ("mbar", "kPa"),
}
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"  # of choices, on paper
NUMBERS = frozenset({"number", "read"})


def also(unit: str) -> tuple[str, ...]:
    """Units that an answer in this one may be typed in too, however it is spelt.

    >>> also("m³/h")
    ('ft**3/h', 'litre/min')
    """
    own = parse_unit(unit)
    return next((others for each, others in ALSO.items() if parse_unit(each) == own), ())


def put(found: Question) -> dict[str, Any]:
    """A question without its answer."""
    template = found.template
    said = {**found.said, "say": found.said.get("say", str(found.case.get("say", "")))}
    shown: dict[str, Any] = {
        **listed(found.id, template),
        "seed": found.seed,
        "stem": filled(filled(str(found.case.get("stem", template["stem"])), said), said),
        "items": [{"id": each.get("id", ""), "text": each["text"]} for each in found.items],
        **drawn(found, solved=False),
    }
    if found.asks in NUMBERS:
        units = [found.unit, *also(found.unit)] if found.unit else []
        if found.asks == "read":  # which unit it has is part of the reading
            units.sort()
        shown["units"] = [{"unit": each, "text": unit_text(each)} for each in units]
    return shown


def drawn(found: Question, *, solved: bool) -> dict[str, Any]:
    """The `drawing` of a question, as `svg` and in `words`, where it has one.

    One that can be handled has it `live` too. On paper, and once it is answered, it stands still.

    Args:
        found: The question.
        solved: With what has to be seen on it, for whoever has answered.
    """
    shows = found.case.get("drawn") or found.template.get("drawn")
    if not shows:
        return {}
    made: dict[str, Any] = {**drawing(shows, found.values, solved=solved)}
    if "live" in found.template and not solved:
        made["live"] = bench(found.template["live"], found.values)
    return {"drawing": made}


def listed(name: str, template: Mapping[str, Any]) -> dict[str, Any]:
    """What a list says of a question."""
    about = {key: template.get(key, "") for key in ("title", "topic", "asks", "safety")}
    return {"id": name, **about}


def right_answer(found: Question) -> dict[str, Any]:
    """What a page would send that was answered rightly."""
    if found.asks in NUMBERS:
        return {"text": marking.shown_number(found), "unit": found.unit}
    if found.asks == "order":
        return {"order": [one["id"] for one in found.template["order"]["steps"]]}
    if found.asks == "verdict":
        return {"chosen": [found.right]}
    return {"chosen": [place for place, one in enumerate(found.items) if one["right"]]}


def worked(found: Question, pack: Pack) -> dict[str, Any]:
    """The answer and the way to it: what a right answer would be told."""
    told = marking.mark(found, right_answer(found), pack)
    return {key: told.get(key) for key in ("answer", "because", "sum", "working")}


def why(found: Question) -> str:
    """The one reason that is told with the answer."""
    return str(found.case.get("why") or found.template.get("why", ""))
