"""The lines of many steps at once, from what a visit holds."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from operator import itemgetter
from typing import Any

from calcs.engine.errors import Refused
from calcs.engine.held_to import Known
from calcs.engine.in_force import InForce
from calcs.engine.overrides import read_overrides
from calcs.engine.own_figures import overrides_of, read_own
from calcs.engine.own_instruments import instruments_of
from calcs.engine.parse_value import day_of
from calcs.engine.reference import DatedValue, Reference
from calcs.engine.request_errors import NotANumber, WrongForm
from calcs.engine.request_form import LONGEST, kind_of, text_of
from calcs.engine.step_inputs import Step
from calcs.engine.step_outcome import step_outcome

UNREADABLE = "?"
NAMED = ("names in each step",)  # there are hundreds of steps, and one reading changes
CELL = ("value", "unit")  # what a reading of a request is made of


def reply(request: Mapping[str, Any], reference: Reference) -> dict[str, Any]:
    """The lines of the steps that are asked for.

    Args:
        request: `today`; `readings`, by name as `{"value": text, "unit": text}`; `answers`, an
            option by question; `overrides` and `own`, figures of the reader's own copies;
            `instruments` that the reader owns; `steps`, as `procedure.step`, or else `changed`,
            readings: the steps that take one of them. What this edition does not know of readings
            and steps is left out.
        reference: Figures and words.

    Returns:
        `{"outcomes": {step: line}}`, or `{"refused": [...]}`.
    """
    try:
        steps = _steps(request, reference)
        known, own = known_of(request, reference)
    except WrongForm as wrong:
        return {"refused": [wrong.as_json({})]}
    except Refused as refused:
        return {"refused": told_of(refused, reference)}
    return {
        "outcomes": {
            name: step_outcome(Step(**reference.steps[name]), reference, known, own)
            for name in steps
            if isinstance(name, str) and name in reference.steps
        }
    }


def known_of(
    request: Mapping[str, Any], reference: Reference
) -> tuple[Known, Mapping[str, DatedValue]]:
    """What the readings and answers of a request say, and the reader's own figures.

    Raises:
        WrongForm: A part of the request has another form.
        Refused: A day or a figure of the reader's own can't be used.
    """
    today = day_of(request)
    asked = {name: _object(request, name) for name in ("readings", "answers", "overrides")}
    readings, cells = reference.readings, asked["readings"]
    if not _are_usual(cells.values()):
        cells = {name: _cell(name, cell) for name, cell in cells.items() if name in readings}
    typed = {name: cell for name, cell in cells.items() if name in readings}
    own, refusals = read_overrides(None, reference, asked["overrides"], today)
    own = {**overrides_of(read_own(request.get("own"), reference, today)), **own}
    instruments = instruments_of(request, reference, today)
    if refusals:
        raise Refused(refusals)
    given = {name: str(option) for name, option in asked["answers"].items() if option}
    answers = {**reference.assumed, **given}
    in_force = InForce(reference, today, own, instruments)
    return Known(readings, typed, in_force, answers), own


def told_of(refused: Refused, reference: Reference) -> list[dict[str, str | None]]:
    """Why figures can't be used, by what each is called."""
    words = {name: str(reference.facts(name).get("label", name)) for name in reference.names}
    return [refusal.as_json(words) for refusal in refused.refusals]


def _steps(request: Mapping[str, Any], reference: Reference) -> list[Any]:
    for name in ("steps", "changed"):
        given = request.get(name)
        if given is not None and not isinstance(given, list):
            raise WrongForm(name, found=kind_of(given), expected="a list of names")
    steps = request.get("steps")
    return _taking(request.get("changed"), reference) if steps is None else steps


def _taking(changed: Any, reference: Reference) -> list[str]:
    """Steps that take one of the readings; all of them where none is named."""
    if changed is None:
        return list(reference.steps)
    if NAMED not in reference.kept:
        named = {name: frozenset(_names(step)) for name, step in reference.steps.items()}
        reference.kept[NAMED] = named
    wanted = {*map(str, changed)}
    return [name for name, names in reference.kept[NAMED].items() if names & wanted]


def _names(part: Any) -> set[str]:
    """Every text in a step, the names of its readings among them."""
    if isinstance(part, str):
        return {part}
    parts = part.values() if isinstance(part, dict) else part if isinstance(part, list) else ()
    return {name for each in parts for name in _names(each)}


def _object(request: Mapping[str, Any], name: str) -> dict[str, Any]:
    given = request.get(name) or {}
    if not isinstance(given, dict):
        raise WrongForm(name, found=kind_of(given), expected="an object, by name")
    return given


def _are_usual(cells: Collection[Any]) -> bool:
    """Whether all are what a page sends, which is taken as it is.

    A visit has hundreds, at each key, and a step is judged by few of them: a look at one after the
    other took a quarter of the time.
    """
    try:
        values, units = ([*map(itemgetter(part), cells)] for part in CELL)
    except (KeyError, TypeError, IndexError):
        return False
    have_form = {*map(type, cells)} <= {dict} and {*map(len, cells)} <= {len(CELL)}
    are_texts = have_form and {*map(type, values), *map(type, units)} <= {str}
    if not are_texts or max(map(len, values), default=0) > LONGEST:
        return False
    return [*map(str.strip, values)] == values


def _cell(name: str, cell: Any) -> dict[str, str | None]:
    """What was typed. What can't be read at all is still no number to the steps that take it."""
    unit = cell.get("unit") if isinstance(cell, dict) else None
    try:
        return {"value": text_of(name, cell), "unit": unit}
    except NotANumber:
        return {"value": UNREADABLE, "unit": unit}
