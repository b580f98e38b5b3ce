"""Functions that keep the trace: a root, the greater of two, an iteration.

What they give remembers how it came about, as a sum or a product does (`traced.py`).
"""

from __future__ import annotations

import math
from collections.abc import Callable

from calcs.engine import unit_algebra
from calcs.engine.traced import Node, Traced, make_traced, si
from calcs.engine.units import Q, Quantity


def apply(
    name: str,
    function: Callable[..., float],
    *operands: Q,
    unit: str = "",
    slopes: tuple[float, ...] | None = None,
) -> Q:
    """Value of a function that symbols cannot show: an iteration, a curve, a logarithm.

    Args:
        name: What the working calls it.
        function: From plain numbers in SI base units to one in the SI base unit of `unit`.
        operands: Quantities or pure numbers.
        unit: Unit of the result.
        slopes: Partial derivatives on the plain numbers, where they are known.

    >>> apply("exp", math.exp, Quantity(0, "")).magnitude
    1.0
    """
    value = function(*(si(operand) for operand in operands))
    units = unit_algebra.container(unit)
    value = _from_si(value, units)
    if not any(isinstance(operand, Traced) for operand in operands):
        return Quantity(value, units)
    made = make_traced(value, units)
    made.node = Node(name, operands, function, slopes)
    return made


def of_si(value: float, unit: str) -> Q:
    """Quantity in a unit from a plain number in SI base units.

    >>> of_si(890e3, "kJ/mol").magnitude, of_si(288.15, "degC").magnitude
    (890.0, 15.0)
    """
    units = unit_algebra.container(unit)
    return Quantity(_from_si(value, units), units)


def _from_si(value: float, units: unit_algebra.Units) -> float:
    base = unit_algebra.base(units)
    scale = unit_algebra.scale(base, units)
    if scale is None:
        return float(Quantity(value, base).to(unit_algebra.unit_of(units)).magnitude)
    factor, start = scale
    return value * factor + start


def square_root(value: Q) -> Q:
    """Square root of a quantity, in SI base units.

    `math.sqrt` rounds correctly on every machine; the last digit of `** 0.5` may differ.

    >>> square_root(Quantity(400, "kPa") / Quantity(1, "bar")).magnitude
    2.0
    """
    root = math.sqrt(si(value))
    units = unit_algebra.square_root(unit_algebra.base(value._units))
    if not isinstance(value, Traced):
        return Quantity(root, units)
    return make_traced(root, units, "√", value)


def largest(*values: Q) -> Q:
    """Greatest of the values, which all measure the same thing."""
    return _pick("the greater of", values, max)


def smallest(*values: Q) -> Q:
    """Least of the values, which all measure the same thing."""
    return _pick("the smaller of", values, min)


def _pick(op: str, values: tuple[Q, ...], choose: Callable[..., Q]) -> Q:
    chosen = choose(values)
    if not any(isinstance(value, Traced) for value in values):
        return chosen
    return make_traced(chosen._magnitude, chosen._units, op, *values)
