"""Two figures of a visit that can't both be right."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from calcs.engine.held_to import Known
from calcs.engine.last_digit import last_place
from calcs.engine.own_instruments import figure_of, stands_for
from calcs.engine.traced import si
from calcs.engine.uncertainty import COVERAGE, step_and_accuracy
from calcs.engine.units import Q, Quantity, at_most, parse_quantity, same_kind

RELATIONS = ("below", "at_most", "at_least", "alike")


def contradiction(seen: Sequence[Mapping[str, Any]], known: Known) -> str:
    """What to do about two figures that can't both be right; empty where none are known to be.

    Of a pair one is `below` the other, or `at_most` or `at_least` as much, or `alike`. Last digits
    of a conversion count for nothing, what was `read_with` an instrument may be off by what that
    explains, and `within` is a figure by which they may differ besides, or a share of the other.
    `times` is the ratio of the first to the other; what a plate says of both was rounded, each to
    its last digit. One that is above the limit `unless_above` is told of that, and not that it
    can't be.
    """
    return next((str(pair["do"]) for pair in seen if _contradict(pair, known)), "")


def _contradict(pair: Mapping[str, Any], known: Known) -> bool:
    if not known.fits(pair):
        return False
    one, other = known.value(pair["of"]), known.value(_other(pair))
    if one is None or other is None:
        return False
    if "unless_above" in pair:
        limit = known.in_force[str(pair["unless_above"])]
        if not (at_most(one, limit) and at_most(other, limit)):
            return False
    ratio = known.in_force[str(pair["times"])] if "times" in pair else None
    like = other if ratio is None else other * ratio
    apart = si(one) - si(like)
    # Most pairs are as they should be: then what they may be off by need not be worked out.
    is_fine = "alike" not in pair and (-apart if "at_least" in pair else apart) < 0
    doubt = 0.0 if is_fine else _doubt(pair, (one, other), ratio, known)
    if "alike" in pair:
        return abs(apart) > doubt
    if "at_least" in pair:
        return -apart > doubt and not at_most(like, one)
    if apart > doubt and not at_most(one, like):
        return True
    return "below" in pair and at_most(like, one)


def _other(pair: Mapping[str, Any]) -> str:
    """The name of what the first is held against."""
    return str(next(pair[key] for key in RELATIONS if key in pair))


def _doubt(pair: Mapping[str, Any], values: tuple[Q, Q], ratio: Q | None, known: Known) -> float:
    """How far the two may be from what they should be and still both be right, in SI units."""
    one, other = values
    doubt = _doubt_of_both(pair, values, known)
    if ratio is not None:
        doubt += _half_of_last(pair["of"], one, known)
        doubt += _half_of_last(_other(pair), other, known) * si(ratio)
    if "within" in pair:
        width = known.in_force[str(pair["within"])]
        scale = 1.0 if ratio is None else si(ratio)
        is_difference = same_kind(width.units, one.units)
        doubt += si(width) * (1.0 if is_difference else abs(si(other) * scale))
    return doubt


def _half_of_last(name: str, value: Q, known: Known) -> float:
    """Half of the last digit of what was typed, in SI units."""
    text = str(known.typed[name]["value"]).replace(",", "") if known.has(name) else ""
    return si(Quantity(last_place(text), value.units)) / 2 if text else 0.0


def _doubt_of_both(pair: Mapping[str, Any], values: Sequence[Q], known: Known) -> float:
    """Expanded uncertainty of the difference of two readings of one instrument, in SI units."""
    if "read_with" not in pair:
        return 0.0
    kind, reference = str(pair["read_with"]), known.in_force.reference
    own = stands_for(kind, known.in_force.instruments, reference)
    held = reference.instruments[own.kind if own else kind]
    step, accuracy = (
        parse_quantity(figure_of(own, figure, held)) for figure in ("resolution", "accuracy")
    )
    parts = [part for value in values for part in step_and_accuracy(value, step, accuracy)]
    return COVERAGE * math.sqrt(math.fsum(part * part for part in parts))
