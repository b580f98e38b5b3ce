"""Instruments that a reader owns: their step and accuracy in place of those that are usual."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from calcs.engine.errors import Refusal, Refused
from calcs.engine.parse_value import parse_date
from calcs.engine.reference import OwnInstrument, Reference
from calcs.engine.request_errors import NotASensibleFigure, WrongForm
from calcs.engine.request_form import kind_of, text_of
from calcs.engine.traced import si
from calcs.engine.typed_number import number_at_start, without_commas
from calcs.engine.units import (
    join_unit,
    parse_quantity,
    parse_unit,
    read_quantity,
    same_kind,
    unit_code,
)
from calcs.engine.written_day import written_day

FIGURES = ("resolution", "accuracy")
FAMILY = "family"  # instruments that stand in for one another
# No instrument that is carried is so much better than is usual: a slip of the unit would let pass
# what cannot be told.
TIMES_FINER = 20
PERCENT = unit_code(parse_unit("percent"))


@dataclass(frozen=True)
class Told:
    """What became of one instrument of the reader's own.

    Args:
        instrument: As it can be used; None where it can't.
        refusal: Why it can't be.
    """

    instrument: OwnInstrument | None
    refusal: Refusal | None = None


def read_instruments(given: Any, reference: Reference, on: date) -> list[Told]:
    """What holds of the instruments that a reader keeps, in the order in which they are given.

    Args:
        given: A list of `{"kind": …, "name": …, "serial": …, "resolution": text, "accuracy": text,
            "calibrated_until": day}`. What is left empty is as usual for its kind.
        reference: All that is held. An instrument of a kind that it does not know is refused.
        on: Today.

    Raises:
        WrongForm: It is no such list.
    """
    if given is None:
        return []
    if not isinstance(given, list):
        raise WrongForm("instruments", found=kind_of(given), expected="a list of instruments")
    for place, each in enumerate(given):
        if not isinstance(each, dict):
            field = f"instruments[{place}]"
            raise WrongForm(field, found=kind_of(each), expected="an object with a kind")
    return [_told(each, reference, on) for each in given]


def instruments_of(
    request: Mapping[str, Any], reference: Reference, on: date
) -> dict[str, OwnInstrument]:
    """The instruments of a request that can be used, by their kind.

    Raises:
        Refused: What it gives as instruments has another form.
    """
    try:
        return usable(read_instruments(request.get("instruments"), reference, on))
    except WrongForm as wrong:
        raise Refused([wrong]) from None


def usable(told: Sequence[Told]) -> dict[str, OwnInstrument]:
    """Those that can be used, by their kind; the first of two of a kind."""
    found = [each.instrument for each in told if each.instrument is not None]
    return {each.kind: each for each in reversed(found)}


def _told(given: Mapping[str, Any], reference: Reference, on: date) -> Told:
    kind = str(given.get("kind"))
    try:
        if kind not in reference.instruments:
            raise NotASensibleFigure("kind", told="This handbook knows no such kind of instrument.")
        texts = {name: text_of(name, given.get(name)) for name in ("name", "serial")}
        figures = {name: _figure(name, given.get(name), kind, reference) for name in FIGURES}
        until = text_of("calibrated_until", given.get("calibrated_until"))
        due = parse_date("calibrated_until", until) if until else None
    except Refusal as refusal:
        return Told(None, refusal)
    day, is_past = (due.isoformat(), due < on) if due else ("", False)
    return Told(OwnInstrument(kind, **texts, **figures, until=day, is_past=is_past))


def _figure(name: str, entered: Any, kind: str, reference: Reference) -> str:
    """A step or an accuracy as data/ writes its own; empty where it is as usual."""
    text = text_of(name, entered)
    if not text:
        return ""
    held = reference.instruments[kind]
    unit = str(held["unit"])
    units = (unit, "percent") if name == "accuracy" else (unit,)
    value = read_quantity(name, text, unit, units)
    if si(value) <= 0:
        raise NotASensibleFigure(name, told="{this} must be above nought.")
    usual = parse_quantity(held[name]["value"])
    # A share of the reading is neither finer nor coarser than so many parts in a million.
    shares = [unit_code(one.units) == PERCENT for one in (value, usual)]
    is_alike = same_kind(value.units, unit_code(usual.units)) and shares[0] == shares[1]
    if is_alike and si(value) * TIMES_FINER < si(usual):
        told = f"{{this}} is more than {TIMES_FINER} times finer than is usual. Check its unit."
        raise NotASensibleFigure(name, told=told)
    return f"{without_commas(number_at_start(text))} {unit_code(value.units)}"


def stands_for(
    kind: str, own: Mapping[str, OwnInstrument], reference: Reference
) -> OwnInstrument | None:
    """The reader's own instrument of a kind, or of one that is used in its place."""
    if kind in own or kind not in reference.instruments:
        return own.get(kind)
    family = reference.instruments[kind].get(FAMILY)
    alike = (
        each for each in own.values() if reference.instruments[each.kind].get(FAMILY) == family
    )
    return next(alike, None) if family else None


def figure_of(own: OwnInstrument | None, figure: str, held: Mapping[str, Any]) -> str:
    """Step, accuracy or movement of an instrument as it counts; empty where there is none.

    Args:
        own: The reader's own of that kind, None where they have none.
        figure: "resolution", "accuracy" or "movement".
        held: The kind as data/instruments.yaml has it.
    """
    usual = str(held.get(figure, {}).get("value") or "")
    if own is None:
        return usual
    if figure != "movement":
        return getattr(own, figure) or usual
    # What is seen of a movement on the usual one is not seen in coarser steps.
    step = own.resolution and si(parse_quantity(own.resolution))
    is_coarser = step and step > si(parse_quantity(held["resolution"]["value"]))
    return "" if is_coarser else usual


def copy_of(own: OwnInstrument, reference: Reference) -> dict[str, str]:
    """What the record of a visit keeps of an instrument, with the figures that counted."""
    held = reference.instruments[own.kind]
    return {
        "kind": own.kind,
        "name": own.name or held["title"],
        "serial": own.serial,
        **{name: _shown(figure_of(own, name, held)) for name in FIGURES},
        "calibrated_until": own.until,
    }


def told_of(own: OwnInstrument, reference: Reference, words: Mapping[str, str]) -> str:
    """One sentence or two: which it is, how good it is, and that its calibration is past."""
    told = words["own_instrument"].format(**copy_of(own, reference))
    if not own.is_past:
        return told
    day = written_day(date.fromisoformat(own.until))
    return f"{told} {words['calibration_past'].format(day=day)}"


def _shown(text: str) -> str:
    number, _, unit = text.partition(" ")
    return join_unit(number, unit)
