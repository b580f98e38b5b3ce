"""Two figures of a visit that can't both be right."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from calcs.engine.held_to import Known
from calcs.engine.own_instruments import figure_of, stands_for
from calcs.engine.traced import si
from calcs.engine.uncertainty import COVERAGE, step_and_accuracy
from calcs.engine.units import Q, at_most, parse_quantity

RELATIONS = ("below", "at_most", "alike")


def contradiction(seen: Sequence[Mapping[str, Any]], known: Known) -> str:
    """What to do about two figures that can't both be right; empty where none are known to be.

    Of a pair one is `below` the other, or `at_most` as much, or `alike`. Last digits of a
    conversion count for nothing, what was `read_with` an instrument may be off by what that
    explains, and `within` is a figure by which they may differ besides. One that is above the
    limit `unless_above` is told of that, and not that it can't be.
    """
    return next((str(pair["do"]) for pair in seen if _contradict(pair, known)), "")


def _contradict(pair: Mapping[str, Any], known: Known) -> bool:
    if not known.fits(pair):
        return False
    second = next(pair[key] for key in RELATIONS if key in pair)
    one, other = known.value(pair["of"]), known.value(str(second))
    if one is None or other is None:
        return False
    if "unless_above" in pair:
        limit = known.in_force[str(pair["unless_above"])]
        if not (at_most(one, limit) and at_most(other, limit)):
            return False
    doubt = _doubt_of_both(pair, (one, other), known)
    if "within" in pair:
        doubt += si(known.in_force[str(pair["within"])])
    apart = si(one) - si(other)
    if "alike" in pair:
        return abs(apart) > doubt
    if apart > doubt and not at_most(one, other):
        return True
    return "below" in pair and at_most(other, one)


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
