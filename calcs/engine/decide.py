"""Verdicts by JCGM 106, ISO 14253-1 and ILAC-G8: a reading and its uncertainty against limits."""

from __future__ import annotations

import math

from calcs.engine.traced import si
from calcs.engine.uncertainty import difference_of
from calcs.engine.units import Q


def ceiling(reading: Q, low: Q | None, high: Q | None, span: Q | None) -> float:
    """Greatest expanded uncertainty with which a pass is given, in SI base units.

    Beyond it the verdict could not tell what it must. Between two limits a reading in the middle
    would reach across both, so it is half their distance. A single limit has nought on its other
    side. Where `span` is declared, it counts in place of both: a maker's target is for an ordinary
    analyser, however narrow its tolerance. A reading that is clear of a single limit by more than
    its whole uncertainty has been told from it, below nought it has told nothing.

    Source: JCGM 106:2012, 8.2 (from memory): simple acceptance goes with a greatest uncertainty
    that the parties agree on. How great is this project's choice.

    >>> from calcs.engine.units import Quantity
    >>> ceiling(Quantity(21, "mbar"), Quantity(19, "mbar"), Quantity(23, "mbar"), None)
    200.0
    >>> ceiling(Quantity(21, "mbar"), None, Quantity(23, "mbar"), None)
    1150.0
    """
    if span is not None and low is not None and high is None:
        return max(si(difference_of(span)), si(reading) - si(low))
    if span is not None:
        return si(difference_of(span))
    if low is not None and high is not None:
        return (si(high) - si(low)) / 2
    if high is not None:
        size, clear = _size(high), si(high) - si(reading)
        # Below a limit of nought a reading is on the other side of the scale, as a draught is.
        return max(size / 2, min(size, clear)) if size else max(0.0, clear)
    return math.inf if low is None else max(_size(low) / 2, si(reading) - si(low))


def needed_uncertainty(
    reading: Q, low: Q | None, high: Q | None, ratio: float, most: float
) -> float:
    """Expanded uncertainty with which a reading can be told from its nearest limit, in SI units.

    Nought where it is on the limit itself.
    """
    value = si(reading)
    bounds = [si(limit) for limit in (low, high) if limit is not None]
    margin = min(abs(value - bound) for bound in bounds)
    tolerance = 1e-9 * max(abs(value), *(abs(bound) for bound in bounds))
    return 0.0 if margin <= tolerance else min(most, margin / ratio)


def _size(limit: Q) -> float:
    """How far a limit is from the nought of its own scale."""
    return abs(si(difference_of(limit)))


def decide(
    reading: Q,
    low: Q | None,
    high: Q | None,
    ratio: float,
    expanded_uncertainty: Q,
    *,
    strict: bool = False,
    most: float = math.inf,
) -> str:
    """Meets, does not meet, or cannot be told apart from the limit.

    Args:
        reading: What was measured.
        low: Least permitted value or None.
        high: Greatest permitted value or None.
        ratio: Width of the guard band as a share of U (figures `decision.guard_band.*`).
        expanded_uncertainty: Expanded uncertainty U of the reading.
        strict: The reading must be inside the limits; on them is not enough.
        most: The uncertainty beyond which nothing passes, in SI base units.

    Source: ILAC-G8:09/2019, 4.2, non-binary statement with a guard band on both sides of the limit.
    """
    guard = ratio * si(difference_of(expanded_uncertainty))
    value = si(reading)
    # A margin of a few last digits: 23 mbar typed as 0.023 bar still meets a limit of 23 mbar.
    tolerance = (-1e-12 if strict else 1e-12) * max(
        abs(value), abs(si(low)) if low is not None else 0.0
    )
    outside = (low is not None and value < si(low) - guard - tolerance) or (
        high is not None and value > si(high) + guard + tolerance
    )
    inside = (low is None or value >= si(low) + guard - tolerance) and (
        high is None or value <= si(high) - guard + tolerance
    )
    if outside:
        return "does_not_meet"
    return "meets" if inside and not beyond(expanded_uncertainty, most) else "cannot_tell"


def beyond(expanded_uncertainty: Q, most: float) -> bool:
    """Whether an uncertainty is above a ceiling, the last digits of a float aside."""
    return si(difference_of(expanded_uncertainty)) > most * (1 + 1e-9)
