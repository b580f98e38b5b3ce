"""Two readings of a meter's index, past the noughts too."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.errors import Impossible
from calcs.traced import si
from calcs.units import Q

FULL = "gas_rate.index_full"
MIXED = "{second_reading} is not above {first_reading}. Read the index again, left to right."
# How much of the index may pass in one run. Two readings swapped would be nearly the whole of it.
ONE_RUN = 1e-4


def gas_between(first_reading: Q, second_reading: Q, ref: Mapping[str, Q]) -> Q:
    """Gas that passed between two readings.

    Raises:
        Impossible: The second is below the first, and the index did not turn to nought.
    """
    if second_reading >= first_reading:
        return second_reading - first_reading
    if not turned(first_reading, second_reading, ref):
        raise Impossible("second_reading", MIXED)
    return second_reading + ref[FULL] - first_reading


def turned(first_reading: Q, second_reading: Q, ref: Mapping[str, Q]) -> bool:
    """Whether a metric index went from nines to noughts between the two readings."""
    full = si(ref[FULL])
    passed = si(second_reading) + full - si(first_reading)
    return bool(second_reading < first_reading) and passed <= ONE_RUN * full


def reading_after(first_reading: Q, volume: Q, ref: Mapping[str, Q]) -> Q:
    """What the index shows when that much gas has passed."""
    stop = first_reading + volume
    # A larger meter has more figures: what stands above the turn already does not turn there.
    return stop - ref[FULL] if si(first_reading) < si(ref[FULL]) <= si(stop) else stop
