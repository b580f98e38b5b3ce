"""The metered volume of gas brought to the reference state, as the regulations on billing do."""

from __future__ import annotations

import math
from collections.abc import Mapping

from calcs.engine.traced_functions import apply
from calcs.engine.units import Q

HEIGHT = ("deduction_first", "deduction_step", "step")
STEP_HAIR = 1e-9  # a height typed in feet must not fall into the next step by its last digit


def volume_correction(temperature: Q, height: Q, pressure_gauge: Q, ref: Mapping[str, Q]) -> Q:
    """What a metered volume is multiplied by for the reference state.

    Gas (Calculation of Thermal Energy) Regulations 1996, schedule, part I.

    Args:
        temperature: Of the gas in the meter. [degC]
        height: Of the meter above the sea. [m]
        pressure_gauge: Of the gas in the meter. [mbar]
        ref: Uses `reference_state.*` and `billing.height_*`.

    >>> from calcs.engine.units import Quantity
    >>> ref = {
    ...     "reference_state.pressure": Quantity(1000, "mbar"),
    ...     "reference_state.temperature": Quantity(15, "degC"),
    ...     "billing.height_deduction_first": Quantity(0.3, "mbar"),
    ...     "billing.height_deduction_step": Quantity(0.2, "mbar"),
    ...     "billing.height_step": Quantity(2, "m"),
    ... }
    >>> volume_correction(Quantity(15, "degC"), Quantity(5, "m"), Quantity(20.7, "mbar"), ref).m
    1.02
    """
    first, further, step = (ref[f"billing.height_{name}"] for name in HEIGHT)
    steps = apply("whole steps of", _further_steps, height / step)
    lost_by_height = first + further * steps
    at_reference = ref["reference_state.pressure"]
    by_pressure = (at_reference + pressure_gauge - lost_by_height) / at_reference
    by_temperature = ref["reference_state.temperature"].to("kelvin") / temperature.to("kelvin")
    return (by_pressure * by_temperature).to("")


def _further_steps(steps: float) -> float:
    """Steps after the first that a height has begun; the regulations' table goes by steps."""
    return float(max(math.ceil(steps - STEP_HAIR) - 1, 0))
