"""Figures that a reader keeps from copies of their own, used wherever one of them is asked for.

They go by the edition that they were read in: where another is in force they are laid aside.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from calcs.engine.declarations import Calculator
from calcs.engine.errors import NotInForce, Refusal, Refused
from calcs.engine.in_force import InForce
from calcs.engine.overrides import read_overrides, used_by
from calcs.engine.own_instruments import Told, read_instruments, told_of
from calcs.engine.parse_value import day_of
from calcs.engine.read_inputs import day_of_test
from calcs.engine.reference import Reference
from calcs.engine.request_errors import NotASensibleFigure, WrongForm
from calcs.engine.request_form import kind_of

USED, LAID_ASIDE, REFUSED = "used", "laid_aside", "refused"
PAST = "past"  # of an instrument: it is used, and its calibration has ended


@dataclass(frozen=True)
class OwnFigure:
    """What became of one figure of the reader's own.

    Args:
        state: "used", "laid_aside" or "refused".
        taken: The figure as data/ writes its own, where it is used; of a table its rows.
        edition: The edition in force, where another one is; empty where none is.
        refusal: Why it can't be used.
    """

    state: str
    taken: Any = ""
    edition: str = ""
    refusal: Refusal | None = None


def read_own(given: Any, reference: Reference, on: date) -> dict[str, OwnFigure]:
    """What holds of the figures that a reader keeps.

    Args:
        given: A list of `{"name": …, "value": text, "edition": text}`; a table has `rows`, lists of
            cells, in place of `value`. A figure that this edition of the handbook does not know is
            passed over.
        reference: All that is held.
        on: Day of the test.

    Raises:
        WrongForm: It is no such list.
    """
    if given is None:
        return {}
    if not isinstance(given, list):
        raise WrongForm("own", found=kind_of(given), expected="a list of figures")
    return dict(_each(given, reference, on))


def _each(given: Sequence[Any], reference: Reference, on: date) -> Iterator[tuple[str, OwnFigure]]:
    for place, kept in enumerate(given):
        if not isinstance(kept, dict):
            form = '{"name": "…", "value": "…", "edition": "…"}'
            raise WrongForm(f"own[{place}]", found=kind_of(kept), expected=form)
        if (name := str(kept.get("name"))) in reference.names:
            yield name, _one(name, kept, reference, on)


def _one(name: str, kept: Mapping[str, Any], reference: Reference, on: date) -> OwnFigure:
    try:
        in_force = InForce(reference, on).dated_value(name).edition
    except NotInForce:
        return OwnFigure(LAID_ASIDE)
    # One that says no edition may be of any.
    if in_force and kept.get("edition") != in_force:
        return OwnFigure(LAID_ASIDE, edition=in_force)
    is_table = "columns" in reference.facts(name)
    if is_table and not isinstance(kept.get("rows"), list):
        # One drop out of a table would be held against pipework of every size.
        told = "{this} is a table. Type its rows."
        return OwnFigure(REFUSED, refusal=NotASensibleFigure(name, told=told))
    entered = kept["rows"] if is_table else kept.get("value")
    found, refusals = read_overrides(None, reference, {name: entered}, on)
    return OwnFigure(REFUSED, refusal=refusals[0]) if refusals else OwnFigure(USED, found[name])


def overrides_of(
    own: Mapping[str, OwnFigure], calculator: Calculator | None = None
) -> dict[str, Any]:
    """Those that are used, of all figures or of those that a calculator may look up."""
    used = used_by(calculator) if calculator else None
    return {
        name: each.taken
        for name, each in own.items()
        if each.state == USED and (used is None or used.fullmatch(name))
    }


def with_own(
    request: Mapping[str, Any], calculator: Calculator, reference: Reference, today: date
) -> Any:
    """The overrides of a request, with those of the reader's own figures that it may look up.

    Raises:
        Refused: What is kept has not the form of figures, or the day of the test is none.
    """
    given, kept = request.get("overrides"), request.get("own")
    if not kept or not (given is None or isinstance(given, dict)):
        return given
    inputs = request.get("inputs", {})
    try:
        own = read_own(kept, reference, day_of_test(inputs, today))
    except WrongForm as wrong:
        raise Refused([wrong]) from None
    return {**overrides_of(own, calculator), **(given or {})}


def reply(request: Mapping[str, Any], reference: Reference) -> dict[str, Any]:
    """What a page tells beside each figure and each instrument.

    Returns:
        `{"own": {name: {"state": …, "text": …}}, "instruments": [{"state": …, "text": …}]}`, the
        latter in the order in which they were given, or `{"refused": [...]}`.
    """
    try:
        today = day_of(request)
        own = read_own(request.get("own"), reference, today)
        instruments = read_instruments(request.get("instruments"), reference, today)
    except WrongForm as wrong:
        return {"refused": [wrong.as_json({})]}
    except Refused as refused:
        return {"refused": [refusal.as_json({}) for refusal in refused.refusals]}
    words = reference.words("_shared")["own_figures"]
    return {
        "own": {name: _told(name, each, reference, words) for name, each in own.items()},
        "instruments": [_told_instrument(each, reference) for each in instruments],
    }


def _told_instrument(told: Told, reference: Reference) -> dict[str, str]:
    """Whether one can be used, how good it is, and whether its calibration is past."""
    if told.instrument is None:
        reason = (
            told.refusal.as_json({"calibrated_until": "Next due"})["message"]
            if told.refusal
            else ""
        )
        return {"state": REFUSED, "text": str(reason)}
    state = PAST if told.instrument.is_past else USED
    return {
        "state": state,
        "text": told_of(told.instrument, reference, reference.words("_shared")["outcomes"]),
    }


def _told(
    name: str, own: OwnFigure, reference: Reference, words: Mapping[str, str]
) -> dict[str, str]:
    if own.refusal is not None:
        facts = reference.facts(name)
        label = str(facts.get("label") or facts.get("title") or name)
        row = int((own.refusal.field or "").partition("[")[2].rstrip("]") or -1) + 1
        field = {own.refusal.field or name: f"{label}, row {row}" if row else label}
        return {"state": own.state, "text": str(own.refusal.as_json(field)["message"])}
    word = "not_in_force" if own.state == LAID_ASIDE and not own.edition else own.state
    return {"state": own.state, "text": words[word].format(edition=own.edition)}
