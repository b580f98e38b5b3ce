"""Whether a figure is what was expected, once a slip of the pen is taken out of it."""

from __future__ import annotations

from calcs.engine.errors import Impossible
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

# By its adjustment a burner, a governor or a gauge may be this far off; what is further is a slip.
LEAST_RATIO, MOST_RATIO = 0.7, 1.4


def is_near(ratio: float) -> bool:
    """Whether a reading is near to the usual one.

    Args:
        ratio: The reading over the usual one.

    >>> is_near(1.0), is_near(0.1), is_near(10 * 0.1)
    (True, False, True)
    """
    return LEAST_RATIO <= ratio <= MOST_RATIO


def check_for_percent(field: str, monoxide: Q | None, resolution: Q | None) -> None:
    """Refuse carbon monoxide that the cell can't show: percent typed as parts in a million passes.

    Args:
        field: Name of the reading.
        monoxide: Carbon monoxide as it was typed; None where it was not.
        resolution: Smallest step of the cell.

    Raises:
        Impossible: The reading is in ppm, above nothing and finer than the step.
    """
    if found := _finer(monoxide, resolution, "ppm", times=1.0):
        typed, step, meant = found
        raise Impossible(field, "meant_in_percent", typed=typed, step=step, meant=meant)


def check_for_share(field: str, reading: Q | None, resolution: Q | None) -> None:
    """Refuse a reading in percent that its cell can't show: a share of one typed as percent.

    Args:
        field: Name of the reading.
        reading: The reading as it was typed; None where it was not.
        resolution: Smallest step of the cell.

    Raises:
        Impossible: The reading is in percent, above nothing and finer than the step.
    """
    if found := _finer(reading, resolution, "percent", times=100.0):
        typed, step, meant = found
        raise Impossible(field, "meant_as_share", typed=typed, step=step, meant=meant)


def _finer(
    reading: Q | None, resolution: Q | None, unit: str, *, times: float
) -> tuple[str, str, str] | None:
    """A number below the step, the step, and what was meant: in percent, `times` what was typed."""
    if reading is None or resolution is None or str(reading.units) != unit:
        return None
    if not 0 < si(reading) < si(resolution) * (1 - 1e-9):
        return None
    number = float(reading.magnitude)
    return (
        join_unit(short_number(number), unit),
        join_unit(short_number(float(resolution.to(unit).magnitude)), unit),
        join_unit(short_number(times * number), "%"),
    )
