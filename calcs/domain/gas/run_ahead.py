"""A run of the meter beforehand: how much gas to let pass, and how long that should take."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from calcs.domain.gas.gas_rate_findings import ABOVE
from calcs.domain.gas.meter_index import reading_after
from calcs.engine.units import Q, Quantity

PERIOD = "gas_rate.timing_period"
# Whole hundredths of a cubic metre: the last figure of the index then stands as it stood at first,
# so that a person knows what to watch for.
STEP_M3 = 0.01
TINY = 1e-9


@dataclass(frozen=True)
class RunAhead:
    """What a run will show if the appliance burns what its plate says.

    Args:
        volume: Gas to let pass. [m**3]
        elapsed: Time that it takes. [s]
        second_reading: What the index shows then; None where the first is not known. [m**3]
    """

    volume: Q
    elapsed: Q
    second_reading: Q | None


def run_ahead(time_for_one: Q, first_reading: Q | None, ref: Mapping[str, Q]) -> RunAhead:
    """The shortest run of whole hundredths of a cubic metre that is long enough.

    Long enough even where the appliance burns all that the tolerance permits, which makes the run
    shorter.

    Args:
        time_for_one: How long one cubic metre takes on the plate's input. [s]
        first_reading: The meter's index at the start. [m**3]
        ref: Uses `gas_rate.timing_period`, `heat_input.tolerance_above` and, with a first reading,
            `gas_rate.index_full`.

    >>> ref = {PERIOD: Quantity(120, "s"), ABOVE: Quantity(5, "percent")}
    >>> run = run_ahead(Quantity(1300, "s"), None, ref)
    >>> round(run.volume.magnitude, 3), round(run.elapsed.magnitude, 1)
    (0.1, 130.0)
    """
    longest = (ref[PERIOD] * (1 + ref[ABOVE])).to("s").magnitude
    steps = math.ceil(float(longest / time_for_one.to("s").magnitude) / STEP_M3 - TINY)
    volume = Quantity(steps * STEP_M3, "m**3")
    elapsed = Quantity(steps * STEP_M3 * time_for_one.to("s").magnitude, "s")
    second = None if first_reading is None else reading_after(first_reading, volume, ref)
    return RunAhead(volume, elapsed, second)
