"""One question from its template and a seed: drawn again until what it says is true and clear."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calcs.engine.units import Q, parse_unit, step_of
from calcs.practice import choices, slips
from calcs.practice.figures import Values, drawn, quantity, shown, split
from calcs.practice.integers import Integers, hash_of
from calcs.practice.made import make
from calcs.practice.pack import Pack, inputs

TRIES = 300
USUAL = 0.01  # of the answer: three figures of it, rounded as they may be, lie inside
CLEAR = 2  # times what the answer may be off: so far a slip must lie from it
HAIR = 1e-9  # what is left over of decimals in binary
JUDGED = ("meets", "does_not_meet", "cannot_tell")


class NotDrawn(Exception):
    """No figures were found that make the question true: its template or a limit has changed."""


class Again(Exception):
    """These figures do not do; the text says why."""


@dataclass
class Question:
    """A question with its key.

    Args:
        id: Of its template.
        template: The template.
        seed: What it was drawn by.
        values: The figures drawn and made.
        said: The same, as a stem shows them.
        case: Which of several cases it is; empty where the template has one.
        right: The number, in its unit; the outcome of a verdict; else nothing.
        unit: Unit of the number, as it is written in code.
        text: The right answer as it is shown.
        tolerance: How far a number may be off.
        items: What may be chosen or put in order, as it is shown.
    """

    id: str
    template: Mapping[str, Any]
    seed: str
    values: Values
    said: Values
    case: Mapping[str, Any] = field(default_factory=dict)
    right: Any = None
    unit: str = ""
    text: str = ""
    tolerance: float = 0.0
    items: list[dict[str, Any]] = field(default_factory=list)

    @property
    def asks(self) -> str:
        """What kind of answer is asked for."""
        return str(self.template["asks"])


def question(pack: Pack, name: str, seed: str) -> Question:
    """The question that a seed gives.

    Raises:
        NotDrawn: None of many tries was true and clear.
    """
    template, why = pack.questions[name], ""
    for attempt in range(TRIES):
        integers = Integers(hash_of(f"{seed}/{name}/{attempt}"))
        try:
            return _tried(pack, name, template, seed, integers)
        except Again as again:
            why = str(again)
    raise NotDrawn(f"{name}: {TRIES} draws of seed {seed} did not do. The last: {why}.")


def _tried(
    pack: Pack, name: str, template: Mapping[str, Any], seed: str, integers: Integers
) -> Question:
    draws = template.get("draw", {})
    values = {each: drawn(how, integers) for each, how in draws.items()}
    for each, how in template.get("make", {}).items():
        try:
            values[each] = make(how, values, pack, draws)
        except (ValueError, ArithmeticError) as error:
            raise Again(str(error)) from None
    case = _case(template, values, pack, integers)
    ways = {**draws, **template.get("show", {})}
    said = {each: shown(text, ways.get(each, {})) for each, text in values.items()}
    for holds in template.get("holds", ()):
        _must_hold(holds, values, pack)
    found = Question(name, template, seed, values, said, case)
    if template["asks"] in {"number", "read"}:
        _number(found, pack)
    elif template["asks"] == "verdict":
        _verdict(found, pack)
    else:
        found.items = choices.items(template, case, said, integers)
    return found


def _case(
    template: Mapping[str, Any], values: Values, pack: Pack, integers: Integers
) -> Mapping[str, Any]:
    """One of the cases, of which what it holds must be true; nothing where there are none.

    Where the figures decide, the first is taken of which it is true. To draw others until they fit
    a case takes as many times longer as there are cases.
    """
    cases = template.get("cases", ({},))
    if "by_figures" not in template:
        cases = [integers.choose(cases)] if "cases" in template else cases
    why = Again("there is no case")
    for case in cases:
        try:
            for holds in case.get("holds", ()):
                _must_hold(holds, values, pack)
        except Again as again:
            why = again
        else:
            found: Mapping[str, Any] = case
            return found
    raise why


def _must_hold(holds: Mapping[str, Any], values: Values, pack: Pack) -> None:
    """Ask the calculators if what a stem says of these figures is true."""
    if "below" in holds:
        first, second = (quantity(values[each]) for each in holds["below"])
        if not first < second:
            raise Again(f"{holds['below'][0]} is not below {holds['below'][1]}")
        return
    reply = pack.reply(holds["calculator"], inputs(holds["with"], values))
    if "refused" in holds:
        fields = [each.get("field") for each in reply.get("refused", ())]
        if holds["refused"] not in fields:
            raise Again(f"{holds['calculator']} does not refuse {holds['refused']}")
        return
    answer = reply.get("answer")
    if answer is None:
        raise Again(f"{holds['calculator']} refuses: {reply['refused'][0].get('plain', '')}")
    if "note" in holds and holds["note"] not in [each["name"] for each in answer["notes"]]:
        raise Again(f"{holds['calculator']} does not give the note {holds['note']}")
    if "verdict" in holds and _outcome(answer, holds["verdict"]) != holds["outcome"]:
        found = _outcome(answer, holds["verdict"])
        raise Again(f"{holds['verdict']} is {found} and not {holds['outcome']}")


def _outcome(answer: Mapping[str, Any], verdict: str) -> str:
    found = [each["outcome"] for each in answer["verdicts"] if each["name"] == verdict]
    return str(found[0]) if found else ""


def _number(found: Question, pack: Pack) -> None:
    answer = found.template["answer"]
    if "made" in answer:
        number, unit = split(found.values[answer["made"]])
        found.right, found.unit, found.text = float(number), unit, found.said[answer["made"]]
    else:
        reply = pack.answers(answer["calculator"], answer["with"], found.values)
        listed = reply["answers"] if reply else []
        one = next((each for each in listed if each["name"] == answer["output"]), None)
        if one is None:
            raise Again(f"{answer['calculator']} gives no {answer['output']}")
        found.right, found.unit, found.text = float(one["value"]), one["unit"], one["text"]
    if not math.isfinite(found.right):
        raise Again("the answer is not finite")
    found.tolerance = tolerance(found)
    for name, value in wrong_numbers(found, pack):
        if abs(value.value - found.right) <= CLEAR * found.tolerance:
            raise Again(f"the slip {name} lies at the right answer")


def tolerance(found: Question) -> float:
    """How far off a number may be: as its template says, else the usual share."""
    within = found.template["answer"].get("within")
    if within is None:
        return abs(float(found.right)) * USUAL
    number, unit = split(within)
    if unit == "percent":
        return abs(float(found.right)) * float(number) / 100
    wanted = quantity(f"1 {found.unit}".strip()).units
    return float(quantity(within).to(wanted).magnitude)


def wrong_numbers(found: Question, pack: Pack) -> list[tuple[str, slips.Found]]:
    """What each slip of the template leads to."""
    asked = slips.Asked(found.template["answer"], found.values, found.right, found.unit, pack)
    return [
        (slips.name_of(slip), one)
        for slip in found.template.get("slips", ())
        for one in slips.found(slip, asked)
        if math.isfinite(one.value)
    ]


def _verdict(found: Question, pack: Pack) -> None:
    answer = found.template["answer"]
    reply = pack.answers(answer["calculator"], answer["with"], found.values)
    outcome = _outcome(reply, answer["verdict"]) if reply else ""
    if outcome not in JUDGED:
        raise Again(f"{answer['calculator']} does not judge {answer['verdict']}: {outcome}")
    wanted = found.case.get("outcome")
    if wanted and wanted != outcome:
        raise Again(f"{answer['verdict']} is {outcome} and not {wanted}")
    for name, how in found.template.get("make", {}).items():
        if how.get("verdict") == answer["verdict"]:
            _decides(quantity(found.values[name]), reply or {}, answer["verdict"])
    found.right = found.text = outcome
    found.items = [{"id": each, "text": choices.OUTCOMES[each]} for each in JUDGED]


def _decides(given: Q, reply: Mapping[str, Any], verdict: str) -> None:
    """What a reading may be off, as it is rounded in the stem, leads to the same as the whole."""
    scale = next(each["scale"] for each in reply["verdicts"] if each["name"] == verdict)
    rounded = float(given.to(step_of(parse_unit(scale["unit"]))).magnitude)
    least, most = sorted((rounded, scale["expanded"]))
    for bound in (scale["low"], scale["high"]):
        if bound is not None and least - HAIR <= abs(scale["reading"] - bound) <= most + HAIR:
            raise Again(f"{verdict} hangs on how {given} is rounded")
