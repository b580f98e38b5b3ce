"""Uncertainty by GUM (JCGM 100): of a reading, and of what is worked out from readings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from calcs.engine import unit_algebra
from calcs.engine.last_digit import last_place
from calcs.engine.slopes import slopes
from calcs.engine.traced import Node, Traced, UncertaintyParts, si
from calcs.engine.units import Q, Quantity

_PERCENT = unit_algebra.container("percent")
COVERAGE = 2.0  # Expanded uncertainty U = 2u: about 95 % (JCGM 100, 6.3.3)


def reading_uncertainty(value: Q, resolution: Q, accuracy: Q | None) -> Q:
    """Standard uncertainty of one reading.

    Args:
        value: The reading.
        resolution: Smallest step the reader can tell apart. Rectangular, full width.
        accuracy: Half-width the maker states, in the reading's unit or in percent of the reading.
            An instrument with its step in percent has such an accuracy on the same scale.

    Source: JCGM 100, 4.3.7: a/√3 for a half-width a, so resolution ÷ (2√3).

    >>> u = reading_uncertainty(Quantity(21, "mbar"), Quantity(0.1, "mbar"), None)
    >>> round(u.to("mbar").magnitude, 5)
    0.02887
    """
    parts = step_and_accuracy(value, resolution, accuracy)
    return Quantity(_quadrature(*parts), _base_of_difference(value))


def step_and_accuracy(value: Q, resolution: Q, accuracy: Q | None) -> tuple[float, float]:
    """Standard uncertainty of a reading from the step of its instrument and from its accuracy."""
    step = difference_of(resolution)
    from_display = si(step) / (2 * math.sqrt(3))
    from_maker = 0.0
    if accuracy is not None:
        # Percent of the reading, unless the instrument counts in percent: 0.2 % of oxygen is a
        # step. The reading's unit says nothing: carbon monoxide may be typed as 0.01 %.
        of_reading = accuracy._units == _PERCENT != resolution._units
        half_width = abs(si(value)) * si(accuracy) if of_reading else si(difference_of(accuracy))
        from_maker = half_width / math.sqrt(3)
    return from_display, from_maker


def read_by(value: Traced, instrument: str, resolution: Q, accuracy: Q | None) -> None:
    """Give a reading the uncertainty of the instrument that took it, and what that is made of."""
    parts = step_and_accuracy(value, resolution, accuracy)
    value.uncertainty_parts = UncertaintyParts(instrument, *parts)
    value.standard_uncertainty = Quantity(_quadrature(*parts), _base_of_difference(value))


@lru_cache(maxsize=512)
def rounding_uncertainty(text: str, units: Any) -> Q:
    """Standard uncertainty of a figure that says no more of itself than its digits.

    Args:
        text: The figure as it was typed or printed.
        units: Its unit.

    Source: JCGM 100, 4.3.7 and F.2.2.1: it may be half of its last digit more or less, so one in
    the last digit ÷ (2√3).

    >>> u = rounding_uncertainty("16 m", Quantity(1, "m").units)
    >>> round(u.to("m").magnitude, 4), rounding_uncertainty("16.0 m", u.units) < u
    (0.2887, True)
    """
    return reading_uncertainty(Quantity(0.0, units), Quantity(last_place(text), units), None)


def ratio_uncertainty(value: Q, ratio: Q) -> Q:
    """Standard uncertainty of an estimate that is good to within a share of itself, either way.

    Source: JCGM 100, 4.3.7: a/√3 for a half-width a.

    >>> u = ratio_uncertainty(Quantity(100, "litre"), Quantity(10, "percent"))
    >>> round(u.to("litre").magnitude, 3)
    5.774
    """
    return Quantity(abs(si(value)) * si(ratio) / math.sqrt(3), _base_of_difference(value))


def range_uncertainty(value: Q, half_width: Q) -> Q:
    """Standard uncertainty of a figure that stands for a range.

    Args:
        value: The figure.
        half_width: Half of the range's width in the figure's unit, or as a share of the figure.

    Source: JCGM 100, 4.3.7: a/√3 for a half-width a. Where the figure is not in the middle of the
    range, 4.3.8 takes the same half of the whole width.

    >>> u = range_uncertainty(Quantity(39, "MJ/m**3"), Quantity(3, "MJ/m**3"))
    >>> round(u.to("MJ/m**3").magnitude, 4)
    1.7321
    """
    if half_width._units == _PERCENT != value._units:
        return ratio_uncertainty(value, half_width)
    return Quantity(si(difference_of(half_width)) / math.sqrt(3), _base_of_difference(value))


def _quadrature(*uncertainties: float) -> float:
    # fsum and sqrt round correctly on every Python; sum and hypot have changed between them.
    return math.sqrt(math.fsum(uncertainty * uncertainty for uncertainty in uncertainties))


def difference_of_readings(
    value: Q, resolution: Q | None, accuracy: Q | None, instrument: str
) -> Q:
    """Give a difference of two readings of one counter the uncertainty that it has.

    Each reading has the resolution of the counter. What the counter gains or loses in percent
    counts on what passed between them, not on the total it shows.

    Returns:
        The same difference, carrying its standard uncertainty.
    """
    if isinstance(value, Traced) and resolution is not None:
        step, from_maker = step_and_accuracy(value, resolution, accuracy)
        ends = math.sqrt(2) * step
        value.uncertainty_parts = UncertaintyParts(instrument, ends, from_maker)
        value.standard_uncertainty = Quantity(
            _quadrature(ends, from_maker), _base_of_difference(value)
        )
    return value


def as_difference(number: float, like: Q) -> Q:
    """A width in SI base units as a quantity of the kind of `like`."""
    return Quantity(number, _base_of_difference(like))


def difference_of(value: Q) -> Q:
    """The same number on the scale of differences, whose nought is no temperature."""
    # Half a degree Celsius of resolution is 0.5 K, not 273.65 K.
    return Quantity(value.magnitude, unit_algebra.difference(value._units))


def _base_of_difference(value: Q) -> unit_algebra.Units:
    return unit_algebra.base(unit_algebra.difference(value._units))


def standard_uncertainty(value: Q) -> float:
    """Standard uncertainty of a result, in SI base units, from the readings that it was made of.

    The readings count as independent (JCGM 100, 5.1.2): two readings of one gauge share its error,
    so a difference between them is better than this says, never worse.
    """
    if not isinstance(value, Traced):
        return 0.0
    return _quadrature(*_uncertainties(value).values())


def _uncertainties(value: Traced) -> Mapping[int, float]:
    """Sensitivity × uncertainty of each reading that a result came from, by the reading's `id`.

    Each step keeps its own, so that the answers that share a step work it out once. A stack, and
    not one call inside another: a chain of sections of pipe is longer than calls may be deep.
    """
    waiting = [value]
    while waiting:
        step = waiting[-1]
        if step.uncertainties is None:
            if step.standard_uncertainty is not None:
                step.uncertainties = {id(step): si(step.standard_uncertainty)}
            elif step.node is None:
                step.uncertainties = _NO_UNCERTAINTIES
            else:
                operands = step.node.operands
                below = [
                    one for one in operands if type(one) is Traced and one.uncertainties is None
                ]
                if below:
                    waiting.extend(below)
                    continue
                step.uncertainties = _handed_on(step, step.node)
        waiting.pop()
    return value.uncertainties or _NO_UNCERTAINTIES


_NO_UNCERTAINTIES: Mapping[int, float] = {}


def _handed_on(step: Traced, node: Node) -> Mapping[int, float]:
    """Uncertainties of one step from those of its operands."""
    operands = node.operands
    places = [place for place, one in enumerate(operands) if getattr(one, "uncertainties", None)]
    if not places:
        return _NO_UNCERTAINTIES
    terms: dict[int, float] = {}
    for place, slope in zip(places, slopes(step, node, places), strict=True):
        for reading, term in operands[place].uncertainties.items():
            terms[reading] = terms.get(reading, 0.0) + slope * term
    return terms


def expanded(value: Q) -> Q:
    """Expanded uncertainty (k = 2) of a result, in the SI base unit of a difference."""
    return Quantity(COVERAGE * standard_uncertainty(value), _base_of_difference(value))


def expanded_of_readings(value: Q) -> Q:
    """Expanded uncertainty of a result by what the reader gave alone.

    For a bound that is held against a figure worked out by the tables of the same rule: that the
    rule prints its tables with few digits is no doubt about keeping it.
    """
    uncertainties = _uncertainties(value) if isinstance(value, Traced) else _NO_UNCERTAINTIES
    printed = {id(step) for step in _below(value) if step.role == "figure"}
    given = (
        uncertainty for reading, uncertainty in uncertainties.items() if reading not in printed
    )
    return Quantity(COVERAGE * _quadrature(*given), _base_of_difference(value))


def contributions(value: Q) -> list[tuple[Traced, float]]:
    """Each figure that a result takes uncertainty from, with its share of the expanded uncertainty.

    In SI base units; their root sum of squares is the whole.
    """
    uncertainties = _uncertainties(value) if isinstance(value, Traced) else _NO_UNCERTAINTIES
    return [
        (step, COVERAGE * abs(uncertainties[id(step)]))
        for step in _below(value)
        if id(step) in uncertainties
    ]


def _below(value: Any) -> list[Traced]:
    """A result and every step that it came about from."""
    found: dict[int, Traced] = {}
    waiting = [value]
    while waiting:
        step = waiting.pop()
        if isinstance(step, Traced) and id(step) not in found:
            found[id(step)] = step
            waiting.extend(step.node.operands if step.node else ())
    return list(found.values())


def in_unit(expanded_uncertainty: Q, unit: Any) -> float:
    """Number of an uncertainty in a unit; on a scale with an offset it is a difference."""
    units = unit_algebra.difference(unit_algebra.container(unit))
    factor = unit_algebra.factor(expanded_uncertainty._units, units)
    if factor is None:
        return float(expanded_uncertainty.to(unit_algebra.unit_of(units)).magnitude)
    return float(expanded_uncertainty.magnitude * factor)
