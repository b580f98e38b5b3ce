"""What a page or the command line asks of the questions: JSON in, JSON out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from calcs.engine.units import unit_text
from calcs.practice import marking
from calcs.practice.choices import filled
from calcs.practice.draw import NotDrawn, Question, question
from calcs.practice.pack import Ask, Pack

# Units that an answer may be typed in beside its own, in pint's words.
ALSO = {
    "mbar": ("Pa", "kPa", "inWG"),
    "Pa": ("mbar", "kPa"),
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
}
_held: list[Mapping[str, Any]] = []
_kept: dict[str, Any] = {}  # what the calculators said last: a question and its marking ask alike


def load(text: str) -> None:
    """Take the templates of this edition, as JSON."""
    load_held(json.loads(text))


def load_held(held: Mapping[str, Any]) -> None:
    """Take the templates of this edition."""
    if _held != [held]:
        _held[:] = [held]
        _kept.clear()


def reply(request: Mapping[str, Any], ask: Ask) -> dict[str, Any]:
    """Reply to one request.

    Args:
        request: `about`: `list`, `question` or `mark`; for the latter two `question` and `seed`,
            and `given` for `mark`.
        ask: The bridge of the calculators.

    Returns:
        `{"practice": …}`, or `{"refused": […]}` where there is no such question.
    """
    if not _held:
        return _refused("The questions are not loaded.")
    held = _held[0]
    pack = Pack(held["questions"], held["slips"], held["topics"], held["today"], ask, _kept)
    if request.get("about") == "list":
        listed = [_listed(name, one) for name, one in pack.questions.items()]
        return {"practice": listed, "slips": pack.slips}
    name, seed = str(request.get("question")), str(request.get("seed", "1"))
    if name not in pack.questions:
        return _refused(f"There is no question {name[:40]!r}.")
    try:
        found = question(pack, name, seed)
    except NotDrawn as problem:
        return _refused(str(problem))
    if request.get("about") == "mark":
        given = request.get("given")
        told = marking.mark(found, given if isinstance(given, dict) else {}, pack)
        return {"practice": {**told, "why": _why(found), "read": found.template["read"]}}
    return {"practice": {**asked(found, pack), "why": _why(found)}}


def asked(found: Question, pack: Pack) -> dict[str, Any]:
    """A question as it is put, with how it is done for whoever sees an example first."""
    template = found.template
    said = {**found.said, "say": found.said.get("say", str(found.case.get("say", "")))}
    put: dict[str, Any] = {
        **_listed(found.id, template),
        "seed": found.seed,
        "stem": filled(filled(str(found.case.get("stem", template["stem"])), said), said),
        "items": [{"id": each.get("id", ""), "text": each["text"]} for each in found.items],
    }
    if found.asks in {"number", "read"}:
        units = [found.unit, *ALSO.get(found.unit, ())] if found.unit else []
        put["units"] = [{"unit": each, "text": unit_text(each)} for each in units]
    return {**put, "worked": _worked(found, pack), "read": template["read"]}


def _worked(found: Question, pack: Pack) -> dict[str, Any]:
    """The answer and the way to it: what a right answer would be told."""
    told = marking.mark(found, right_answer(found), pack)
    return {key: told.get(key) for key in ("answer", "because", "working")}


def right_answer(found: Question) -> dict[str, Any]:
    """What a page would send that was answered rightly."""
    if found.asks in {"number", "read"}:
        return {"text": marking.shown_number(found), "unit": found.unit}
    if found.asks == "order":
        return {"order": [one["id"] for one in found.template["order"]["steps"]]}
    if found.asks == "verdict":
        return {"chosen": [found.right]}
    return {"chosen": [place for place, one in enumerate(found.items) if one["right"]]}


def _listed(name: str, template: Mapping[str, Any]) -> dict[str, Any]:
    about = {key: template.get(key, "") for key in ("title", "topic", "asks", "safety")}
    return {"id": name, **about}


def _why(found: Question) -> str:
    return str(found.case.get("why") or found.template.get("why", ""))


def _refused(message: str) -> dict[str, Any]:
    return {"refused": [{"field": "question", "kind": "unknown", "message": message}]}
