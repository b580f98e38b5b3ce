"""The slip of a gauge in kilopascal: its figure is a tenth of what was typed for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from calcs.core import Note
from calcs.topics.starting_pressure import in_mbar
from calcs.traced import si
from calcs.units import Q

# How far ten times the reading may be from what is usual and still be the slip.
LEAST, MOST = 0.7, 1.4


def kilopascal_note(readings: Iterable[Q | None], usual: Q) -> list[Note]:
    """A note for the first reading that would be a usual one ten times over.

    Args:
        readings: Pressures; None where nothing was read.
        usual: What such a pressure is when all is well.
    """
    for reading in readings:
        if reading is not None and 0 < LEAST * si(usual) <= 10 * si(reading) <= MOST * si(usual):
            return [Note("kilopascal", tenfold(reading))]
    return []


def tenfold(reading: Q) -> Mapping[str, str]:
    """What the note says: the pressure typed, and ten times as much."""
    return {"typed": in_mbar(reading), "tenfold": in_mbar(10 * reading)}
