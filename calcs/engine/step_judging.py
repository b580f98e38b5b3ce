"""The verdicts of a step: of its calculator, between limits of its own, or by a word chosen."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from calcs.engine import answer as answering
from calcs.engine.declarations import Calculator, Input, Instrument
from calcs.engine.findings import Compare, Ruling
from calcs.engine.given import Given
from calcs.engine.held_to import HeldTo, Known
from calcs.engine.overrides import used_by
from calcs.engine.own_instruments import stands_for
from calcs.engine.reference import OwnInstrument, Reference
from calcs.engine.registry import calculators, parameters
from calcs.engine.rounding import short_number
from calcs.engine.step_inputs import Step, cell_of, inputs_of
from calcs.engine.traced import si
from calcs.engine.units import join_unit
from calcs.engine.verdict import verdicts

JUDGE = "reading_verdict"  # the calculator that takes any reading and any limit
AS_IT_READS = "simple"  # how a setting is held to its plate
STATES = {  # the gravest first
    "does_not_meet": "outside",
    "cannot_tell": "too_close",
    "not_judged": "not_judged",
    "meets": "within",
}
OUTCOMES = {state: outcome for outcome, state in STATES.items()}


class Judged(NamedTuple):
    """What a step shows: verdicts and their notes, the reader's instruments, answers, what to do.

    What to do is empty where the words of the step or of its calculator say it.
    """

    verdicts: list[dict[str, Any]]
    notes: Sequence[Mapping[str, str]] = ()
    own: Sequence[OwnInstrument] = ()
    answers: Sequence[Mapping[str, Any]] = ()
    act: str = ""


def judged(
    step: Step,
    reference: Reference,
    known: Known,
    overrides: Mapping[str, Any],
    held: HeldTo | None,
) -> Judged:
    """What a step shows of its readings, the gravest verdict first.

    Of two that are as grave the one that its author named first goes first.

    Raises:
        NoOption: An answer of the visit stands for none of the calculator's options.
        Refused: Inputs that cannot be used.
    """
    if "options" in step.outcome:
        return Judged(_by_word(step, known))
    if step.calculator is None:
        return Judged([]) if held is None else _between(step, reference, known, held)
    calculator = calculators()[step.calculator]
    used = used_by(calculator)
    own = {name: text for name, text in overrides.items() if used.fullmatch(name)}
    inputs = inputs_of(step, known, held)
    mine = known.in_force.instruments
    first, _ = answering.begin(
        calculator, reference, inputs, known.in_force.on, own, instruments=mine
    )
    shown, order = list(step.outcome["verdicts"]), list(STATES)
    found = [verdict for verdict in first["verdicts"] if verdict["name"] in shown]
    found.sort(key=lambda each: (order.index(each["outcome"]), shown.index(each["name"])))
    worked_out = {answer["name"]: answer for answer in first["answers"]}
    answers = [worked_out[name] for name in step.outcome.get("shows", ()) if name in worked_out]
    return Judged(found, first["notes"], _own_instruments(calculator, inputs, mine), answers)


def _own_instruments(
    calculator: Calculator, inputs: Mapping[str, Any], own: Mapping[str, OwnInstrument]
) -> list[OwnInstrument]:
    """Those of the reader that took one of the readings."""
    took = {
        one.read_with
        for item in calculator.inputs
        if item.name in inputs
        for one in (item, *getattr(item, "columns", ()))
        if isinstance(one, Input)
    }
    found = {
        item.name: own.get(inputs.get(item.name, {}).get("value") or item.default)
        for item in calculator.inputs
        if isinstance(item, Instrument)
    }
    # What two readings of a counter make has its doubt worked out by the formula.
    by_formula = parameters(calculator)
    return [
        each
        for name, each in found.items()
        if each is not None and (name in took or f"{name}_resolution" in by_formula)
    ]


def _by_word(step: Step, known: Known) -> list[dict[str, Any]]:
    """The verdict on a word that was chosen; none on one that leaves nothing to judge."""
    name = step.stands_beside(known)
    word = str(known.typed[name]["value"]).strip()
    outcome = OUTCOMES.get(step.outcome["options"].get(word, ""))
    if outcome is None:
        return []
    label = known.label(name)
    said = {"name": "reading", "label": label, "outcome": outcome, "text": word, "found": word}
    plain = {"settles": "", "act": "", "scale": None, "limit": "", "decision_rule": None}
    return [{**said, **plain, "source": "", "provenance": "", "in_force": None, "edition": None}]


def is_put_right(step: Step, known: Known) -> bool:
    """Whether a word that was chosen as found was not in order, and the one as left is."""
    words = [str((known.typed.get(name) or {}).get("value") or "") for name in step.readings]
    states = [step.outcome.get("options", {}).get(word.strip()) for word in words]
    return states == ["outside", "within"]


def _between(step: Step, reference: Reference, known: Known, held: HeldTo) -> Judged:
    """The verdict on a reading between limits of the step, with their own label and source."""
    used: list[OwnInstrument] = []
    known.value(step.judged)  # what is no such reading is told by its own name
    if "instrument" in step.outcome:
        mine, day = known.in_force.instruments, known.in_force.on
        kind = str(step.outcome["instrument"])
        own = stands_for(kind, mine, reference)
        used = [own] if own else []
        inputs = _with_instrument(step, own.kind if own else kind, known, held)
        names = {"reading": known.label(step.judged)}
        first, _ = answering.begin(
            calculators()[JUDGE], reference, inputs, day, instruments=mine, names=names
        )
        found = first["verdicts"]
    else:
        found = [_as_it_stands(step, reference, known, held)]
    named = [_named(verdict, step, reference, known, held) for verdict in found]
    rise = risen(step, reference, known)
    if rise is not None and all(each["outcome"] == "meets" for each in named):
        named = [{**named[0], **rise, "label": known.label(step.judged)}]
        return Judged(named, own=used, act=str(step.outcome["not_above"]["do"]))
    return Judged(named, own=used)


def _with_instrument(step: Step, kind: str, known: Known, held: HeldTo) -> dict[str, Any]:
    unit = str(known.readings[step.judged]["unit"])
    inputs: dict[str, Any] = {
        "reading": cell_of(step.judged, known),
        "instrument": {"value": kind},
    }
    for side, limit in (("low_limit", held.low), ("high_limit", held.high)):
        if limit is not None:
            number = short_number(float(limit.to(unit).magnitude), 12)
            inputs[side] = {"value": number, "unit": unit}
    if held.is_setting or "as_it_reads" in step.outcome:
        inputs["decision_rule"] = {"value": AS_IT_READS}
    return inputs


def _as_it_stands(step: Step, reference: Reference, known: Known, held: HeldTo) -> dict[str, Any]:
    """A figure that was copied, or read with what has no doubt of its own."""
    reading, unit = known.value(step.judged), str(known.readings[step.judged]["unit"])
    finding = Compare("reading", reading, held.low, held.high, unit=unit, places=held.places(unit))
    given = Given(known.in_force, {})
    return verdicts([finding], calculators()[JUDGE], reference, given)[0]


def _named(
    verdict: Mapping[str, Any], step: Step, reference: Reference, known: Known, held: HeldTo
) -> dict[str, Any]:
    sources = reference.words("_shared")["outcomes"]["sources"]
    figure = held.figure
    source = {
        "label": known.label(step.judged),
        "source": figure.source_text if figure else sources[held.source],
        "provenance": figure.provenance if figure else "instructions-govern",
        "edition": figure.edition if figure else None,
        "in_force": figure.first_day if figure else None,
    }
    told = " ".join(filter(None, (verdict["found"], verdict["settles"])))
    return {**verdict, **source, "text": told}


def risen(step: Step, reference: Reference, known: Known) -> dict[str, Any] | None:
    """The verdict that a reading is above the one it may not rise from; None where it is not.

    Two readings, each good to ± a, differ by no more than 2 × √2 × a/√3 where nothing rose (JCGM
    100, 4.3.7 and 5.1.2, k = 2).
    """
    declared = step.outcome.get("not_above")
    if declared is None or (before := known.value(declared["reading"])) is None:
        return None
    rise = known.value(step.judged) - before
    good_to = known.in_force[declared["good_to"]]
    if si(rise) <= 2 * math.sqrt(2 / 3) * si(good_to):
        return None
    unit = str(known.readings[step.judged]["unit"])
    values = {"width": join_unit(short_number(float(rise.to(unit).magnitude), 3), unit)}
    said = str(reference.words("_shared")["outcomes"]["risen"])
    ruling = Ruling("rise", "does_not_meet", said, (declared["good_to"],), values)
    told = verdicts([ruling], calculators()[JUDGE], reference, Given(known.in_force, {}))
    return told[0]


def gravest_side(scale: Mapping[str, Any] | None) -> str:
    """Which limit a reading is outside of: "low" or "high"; empty where no number decides."""
    if scale is None:
        return ""
    if scale["low"] is not None and (scale["high"] is None or scale["reading"] <= scale["low"]):
        return "low"
    return "high"
