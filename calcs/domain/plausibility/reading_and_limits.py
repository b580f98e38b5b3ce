"""A reading and its limits are of one kind and scale, and not below what can be."""

from __future__ import annotations

import math

from calcs.engine.errors import Impossible, Missing
from calcs.engine.request_errors import WrongUnit
from calcs.engine.traced import si
from calcs.engine.units import Q, is_scale, is_step, same_kind, unit_text

# What may be below nought: a gauge pressure, a difference of temperatures, a current, and a share
# or a plain number, such as how far one thing is off another. Parts in a million are counted.
SIGNED = ("mbar", "delta_degC", "µA", "percent")
PART = ("figure", "percent")
EMPTY = -1.1e5  # Pa: no gauge falls further below the air than the highest air pressure of a form


def check_reading(
    reading: Q, low_limit: Q | None, high_limit: Q | None, resolution: Q | None
) -> None:
    """Refuse a reading and limits that can't stand beside each other.

    Raises:
        Missing: There is no limit.
        WrongUnit: A limit is of another kind or scale than the reading.
        Impossible: One is below what can be, or the limits are swapped.
    """
    if low_limit is None and high_limit is None:
        raise Missing("high_limit", "limit_needed")
    for name, limit in (("low_limit", low_limit), ("high_limit", high_limit)):
        if limit is not None:
            check_kind(name, limit, reading)
            _same_scale(name, limit, reading)
            if _is_below_nought(limit, resolution):
                raise Impossible(name, "below_nought", unit=unit_text(limit.units))
    if low_limit is not None and high_limit is not None and low_limit > high_limit:
        raise Impossible("low_limit", "limits_swapped")
    if _is_below_nought(reading, resolution):
        raise Impossible("reading", "reading_below_nought", unit=unit_text(reading.units))


def check_kind(name: str, value: Q, reading: Q) -> None:
    """Refuse a value that measures something else than the reading.

    Raises:
        WrongUnit: It does.
    """
    if not same_kind(value.units, reading.units):
        raise WrongUnit(name, found=unit_text(value.units), unit=unit_text(reading.units))


def _same_scale(name: str, limit: Q, reading: Q) -> None:
    """A rise of 5 °C is neither above nor below a temperature of 35 °C. Kelvin may be either."""
    units = (limit.units, reading.units)
    if any(map(is_scale, units)) and any(map(is_step, units)):
        found, unit = map(unit_text, units)
        raise WrongUnit(name, "step_and_scale", found=found, unit=unit)


def _is_below_nought(value: Q, resolution: Q | None) -> bool:
    """Whether it is below the nought of what is measured: every limit, or none, would be met.

    Of a temperature that is its absolute nought, of a gauge pressure an empty space.
    """
    is_signed = any(same_kind(value.units, unit) for unit in SIGNED) and not is_scale(value.units)
    # An instrument of the handbook that counts in percent shows how much of a gas there is.
    shows_a_part = resolution is not None and (resolution.role, str(resolution.units)) == PART
    least = 0.0 if not is_signed or shows_a_part or str(value.units) == "ppm" else -math.inf
    if same_kind(value.units, "mbar"):
        least = EMPTY
    return bool(si(value) < least)
