"""The slip of a gauge in kilopascal: its figure is a tenth of what was typed for."""

from __future__ import annotations

from collections.abc import Iterable

from calcs.domain.plausibility.ratio import is_near
from calcs.domain.tightness.starting_pressure import tenfold
from calcs.engine.findings import Note
from calcs.engine.traced import si
from calcs.engine.units import Q


def kilopascal_note(readings: Iterable[Q | None], usual: Q) -> list[Note]:
    """A note for the first reading that would be a usual one ten times over.

    Args:
        readings: Pressures; None where nothing was read.
        usual: What such a pressure is when all is well; nothing is a slip for nought.
    """
    for reading in readings:
        if reading is not None and si(usual) > 0 and is_near(10 * si(reading) / si(usual)):
            return [tenfold(reading)]
    return []
