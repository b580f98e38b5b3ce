"""The slip of a vent measured in square millimetres and typed in square centimetres."""

from __future__ import annotations

from collections.abc import Iterable

from calcs.engine.findings import Note
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

# The slip makes a vent a hundred times as large. Nobody fits one of thirty times what is needed.
TIMES_TOO_LARGE = 30


def is_slip(fitted: Q | None, needed: Q | None) -> bool:
    """Whether a vent is so large that it was measured in square millimetres.

    Args:
        fitted: Free area that is there, None for not known. What was typed in another unit than
            square centimetres is no such slip.
        needed: Free area that is needed, None for not known.
    """
    if fitted is None or needed is None or str(fitted.units) != "centimeter ** 2":
        return False
    return bool(si(fitted) > TIMES_TOO_LARGE * si(needed) > 0)


def millimetres_note(vents: Iterable[tuple[Q | None, Q | None]]) -> list[Note]:
    """A note where a vent is so large that it was measured in square millimetres.

    Args:
        vents: Free area that is there and free area that is needed; None for either not known.
    """
    for fitted, needed in vents:
        if fitted is not None and is_slip(fitted, needed):
            number = short_number(float(fitted.magnitude))
            values = {"typed": join_unit(number, "cm**2"), "meant": join_unit(number, "mm**2")}
            return [Note("square_millimetres", values)]
    return []
