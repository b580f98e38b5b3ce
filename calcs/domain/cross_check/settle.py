"""The one reading that would tell two explanations apart, and what to read where it is too little.

What a reading would do is worked out for the readings at hand: none is proposed that would leave
the two as alike as they were.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from calcs.domain.cross_check.balance import Balance, Condition
from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.cholesky import dot
from calcs.domain.cross_check.relations import Read, Relation, Sheet, size_of
from calcs.domain.cross_check.signature import Signature
from calcs.domain.pipes.pipe_flow import natural_log

ANEW = "taken_again"


def settling(case: Case, pair: tuple[Signature, Signature], data: Mapping[str, Any]) -> str | None:
    """Name of the reading to take next; None where none would tell the two apart.

    Args:
        case: The readings.
        pair: The two at the top.
        data: What `data/cross_check/settling.yaml` says.
    """
    families = {one.family for one in pair}
    if any(families == set(never) for never in data["never"]):
        return None
    most = float(data["most_alike"])
    return next(
        (
            name
            for name in _in_turn(families, data)
            if _alike(case, pair, data["takes"][name], most)
        ),
        None,
    )


def _in_turn(families: set[str], data: Mapping[str, Any]) -> Iterator[str]:
    """Those that data names for the two, then all others."""
    named = [name for one in data["pairs"] if set(one["pair"]) == families for name in one["take"]]
    yield from named
    yield from (name for name in data["takes"] if name not in named)


def _alike(
    case: Case, pair: tuple[Signature, Signature], take: Mapping[str, Any], most: float
) -> bool:
    """Whether this reading brings the two to be no more alike than `most`."""
    found = _again(case, pair, take) if "again" in take else _first(case, pair, take)
    return found is not None and found <= most


def _again(case: Case, pair: tuple[Signature, Signature], take: Mapping[str, Any]) -> float | None:
    """How alike they are once a reading that is there is taken once more."""
    name, stays = take["again"], take.get("stays", ())
    if name not in case.sheet.read or not case.uncertainties.get(name):
        return None
    # What is wrong with the first is not in the second, unless it stays.
    out_of_it = (name, *take.get("moved_by", ()))
    moved = [
        0.0 if one.family in stays else math.fsum(one.errors.get(each, 0.0) for each in out_of_it)
        for one in pair
    ]
    if moved[0] == moved[1]:
        return None
    width = case.uncertainties[name]
    condition = Condition(ANEW, 0.0, {name: 1.0, ANEW: -1.0})
    balance = Balance([*case.conditions, condition], {**case.uncertainties, ANEW: width})
    return _likeness(balance, pair, moved)


def _likeness(balance: Balance, pair: tuple[Signature, Signature], moved: Sequence[float]) -> float:
    left, right = (
        balance.whitened([*balance.shift(one.errors)[:-1], size])
        for one, size in zip(pair, moved, strict=True)
    )
    scale = math.sqrt(dot(left, left) * dot(right, right))
    return abs(dot(left, right)) / scale if scale else 1.0


def _first(case: Case, pair: tuple[Signature, Signature], take: Mapping[str, Any]) -> float | None:
    """How alike they are once a reading is taken that is not there, and is as it should be."""
    name, sheet = take["first"], case.sheet
    if name in sheet.read:
        return None
    logarithm = 0.0
    for other, power in take.get("as", {}).items():
        value = sheet.value(other)
        if value is None or value <= 0:
            return None
        logarithm += float(power) * natural_log(value)
    value = math.exp(logarithm) if "as" in take else 0.0
    width = size_of(take["good_to"]) * (value if "as" in take else 1.0)
    read = {**sheet.read, name: Read(value, width)}
    more = Case(
        Sheet(read, sheet.burner, sheet.rules, sheet.derived), case.allowances, case.accuracies
    )
    if len(more.conditions) == len(case.conditions):
        return None
    known = {one.name: one for one in more.signatures}
    first, second = (known.get(one.name, one) for one in pair)
    before = case.balance.confounding(*(one.errors for one in pair))
    after = more.balance.confounding(first.errors, second.errors)
    return after if after < before else None


def most_helpful(sheet: Sheet) -> tuple[str, ...]:
    """Quantities to read where too little was: the fewest that let the appliance be tested."""
    lacking = [
        missing
        for relation in sheet.rules.relations
        if not relation.weak and (missing := _missing(sheet, relation))
    ]
    return min(lacking, key=len, default=())


def _missing(sheet: Sheet, relation: Relation) -> tuple[str, ...] | None:
    """What a relation lacks, by the alternative that lacks least; None for another burner."""
    if relation.only not in ("", sheet.burner):
        return None
    found: dict[str, None] = {}
    for names, _ in relation.powers:
        ways = [way for name in names if (way := _lacks(sheet, name)) is not None]
        if not ways:
            return None
        least: tuple[str, ...] = min(ways, key=len)
        found.update(dict.fromkeys(least))
    return tuple(found)


def _lacks(sheet: Sheet, name: str) -> tuple[str, ...] | None:
    if name in sheet.rules.parts:
        return _missing(sheet, sheet.rules.parts[name])
    if name in sheet.read:
        return ()
    about = sheet.rules.quantities[name]
    if about.of:
        return tuple(one for one in about.of if one not in sheet.read)
    return (name,)
