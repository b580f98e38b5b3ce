"""A sensor by its constant B: resistance from temperature and back."""

from __future__ import annotations

import math

from calcs.engine.traced_functions import apply
from calcs.engine.units import Q


def resistance_by_constant(temperature: Q, nominal_resistance: Q, beta: Q, nominal: Q) -> Q:
    """Resistance at a temperature.

    Args:
        temperature: Where it is wanted.
        nominal_resistance: Resistance at the nominal temperature.
        beta: Constant B of the sensor.
        nominal: The nominal temperature.

    >>> from calcs.engine.units import Quantity
    >>> ten, warm = Quantity(10, "kohm"), Quantity(25, "degC")
    >>> resistance_by_constant(warm, ten, Quantity(3977, "K"), warm).magnitude
    10.0
    """
    steepness = beta * (1 / temperature.to("kelvin") - 1 / nominal.to("kelvin"))
    return nominal_resistance * apply("exp", math.exp, steepness)


def temperature_by_constant(resistance: Q, nominal_resistance: Q, beta: Q, nominal: Q) -> Q:
    """Temperature that a resistance above nought stands for, in kelvin."""
    logarithm = apply("ln", math.log, resistance / nominal_resistance)
    return 1 / (1 / nominal.to("kelvin") + logarithm / beta)
