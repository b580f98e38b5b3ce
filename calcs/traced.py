"""Quantities that remember how they came about.

A formula is run with `Traced` values in place of plain quantities. Each result keeps the operation
and its operands, so that the working shown to the reader (`working.py`) and the uncertainty
(`uncertainty.py`) are both derived from the code that ran, branch by branch, and no formula is
typed twice.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calcs.units import Q, Quantity, base_factor, ureg


@dataclass(frozen=True)
class Node:
    """One operation: its sign or name, its operands, and how it is computed on plain SI numbers."""

    op: str
    operands: tuple[Any, ...]
    function: Callable[..., float] | None = None


class Traced(Quantity):  # type: ignore[misc, valid-type]  # pint makes the class at run time
    """A quantity with a name (an input, a record, an answer) or the operation that made it."""

    name: str | None = None
    label: str | None = None
    role: str = "result"  # "input", "record" or "result"
    node: Node | None = None
    standard_uncertainty: Q | None = None
    doubts: dict[int, float] | None = None  # kept by uncertainty.py
    base: float | None = None  # kept by `si`

    def _made(self, result: Any, op: str, *operands: Any) -> Any:
        if result is NotImplemented:
            return result
        # pint makes its result of the class of `self`: a fresh one needs no copy.
        fresh = type(result) is Traced and result.node is None and result is not self
        traced = result if fresh else Traced(result.magnitude, result.units)
        traced.node = Node(op, operands)
        return traced

    def __mul__(self, other: Any) -> Any:
        return self._made(super().__mul__(other), "×", self, other)

    def __rmul__(self, other: Any) -> Any:
        return self._made(super().__rmul__(other), "×", other, self)

    def __truediv__(self, other: Any) -> Any:
        return self._made(super().__truediv__(other), "÷", self, other)

    def __rtruediv__(self, other: Any) -> Any:
        # pint answers Quantity / Traced through here too; its own method knows only numbers.
        result = other / _plain(self) if isinstance(other, Quantity) else 1 / _plain(self) * other
        return self._made(result, "÷", other, self)

    def __add__(self, other: Any) -> Any:
        return self._made(super().__add__(other), "+", self, other)

    def __radd__(self, other: Any) -> Any:
        return self._made(super().__add__(other), "+", other, self)

    def __sub__(self, other: Any) -> Any:
        return self._made(super().__sub__(other), "−", self, other)

    def __rsub__(self, other: Any) -> Any:
        return self._made(other - _plain(self), "−", other, self)

    def __pow__(self, other: Any) -> Any:
        return self._made(super().__pow__(other), "^", self, other)

    # pint's own in-place forms would change the quantity and lose where it came from.
    __iadd__, __isub__ = __add__, __sub__
    __imul__, __itruediv__, __ipow__ = __mul__, __truediv__, __pow__

    def __neg__(self) -> Any:
        return self._made(super().__neg__(), "0−", self)

    def __abs__(self) -> Any:
        return self._made(super().__abs__(), "abs", self)

    def to(self, other: Any = None, *contexts: Any, **kwargs: Any) -> Any:
        """The same quantity in another unit: no step of its own in the working."""
        if isinstance(other, str):
            other = _unit(other)
        return self._made(super().to(other, *contexts, **kwargs), "to", self)


@lru_cache(maxsize=256)
def _unit(text: str) -> Any:
    """Parsing a unit takes pint longer than converting to it."""
    return ureg.Unit(text)


@lru_cache(maxsize=256)
def _base(unit: Any) -> Any:
    return Quantity(1.0, unit).to_base_units().units


def _plain(value: Traced) -> Q:
    return Quantity(value.magnitude, value.units)


def named(value: Q, name: str, label: str, role: str = "result") -> Traced:
    """A copy of `value` that stands under its own name where it is used."""
    copy = Traced(value.magnitude, value.units)
    copy.name, copy.label, copy.role = name, label, role
    if isinstance(value, Traced):
        # A value that has a name (an input handed back as an answer) becomes its only operand.
        copy.node = Node("to", (value,)) if value.name else value.node
    return copy


def apply(name: str, function: Callable[..., float], *operands: Q, unit: str = "") -> Q:
    """Value of a function that symbols cannot show: an iteration, a curve, a logarithm.

    Args:
        name: What the working calls it.
        function: From plain numbers in SI base units to one in the SI base unit of `unit`.
        operands: Quantities or pure numbers.
        unit: Unit of the result.

    >>> apply("exp", math.exp, Quantity(0, "")).magnitude
    1.0
    """
    value = function(*(si(operand) for operand in operands))
    wanted = _unit(unit)
    made = Quantity(value, _base(wanted)).to(wanted)
    if not any(isinstance(operand, Traced) for operand in operands):
        return made
    traced = Traced(made.magnitude, made.units)
    traced.node = Node(name, operands, function)
    return traced


def square_root(value: Q) -> Q:
    """Square root of a quantity, in SI base units.

    `math.sqrt` rounds correctly on every machine; the last digit of `** 0.5` may differ.

    >>> square_root(Quantity(400, "kPa") / Quantity(1, "bar")).magnitude
    2.0
    """
    base = value.to_base_units()
    root = Quantity(math.sqrt(base.magnitude), base.units**0.5)
    if not isinstance(value, Traced):
        return root
    traced = Traced(root.magnitude, root.units)
    traced.node = Node("√", (value,))
    return traced


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
    traced = Traced(chosen.magnitude, chosen.units)
    traced.node = Node(op, values)
    return traced


def si(value: Any) -> float:
    """Plain number in SI base units of a quantity or a pure number."""
    if isinstance(value, Traced):
        if value.base is None:
            value.base = _si(value)
        return value.base
    return _si(value) if isinstance(value, Quantity) else float(value)


def _si(value: Q) -> float:
    factor = base_factor(value.units)
    if factor is None:
        return float(value.to_base_units().magnitude)
    return float(value.magnitude * factor)


def _chosen(values: list[float], result: float) -> list[float]:
    first = values.index(result)
    return [1.0 if place == first else 0.0 for place in range(len(values))]


# Partial derivatives of each sign, from the operands and the result.
_SLOPES: dict[str, Callable[[list[float], float], list[float]]] = {
    "+": lambda _v, _r: [1.0, 1.0],
    "−": lambda _v, _r: [1.0, -1.0],
    "×": lambda v, _r: [v[1], v[0]],
    "÷": lambda v, r: [1.0 / v[1], -r / v[1]],
    # The exponent of a formula is a pure number without uncertainty.
    "^": lambda v, r: [v[1] * r / v[0] if v[0] else 0.0, 0.0],
    "√": lambda _v, r: [0.5 / r if r else 0.0],
    "0−": lambda _v, _r: [-1.0],
    "abs": lambda v, _r: [math.copysign(1.0, v[0])],
    "to": lambda _v, _r: [1.0],
    "the greater of": _chosen,
    "the smaller of": _chosen,
}


def slopes(node: Node, values: list[float], result: float, places: list[int]) -> list[float]:
    """Partial derivatives of one operation on plain SI numbers, for the operands at some places."""
    if node.function is not None:
        return [_slope(node.function, values, place) for place in places]
    every = _SLOPES[node.op](values, result)
    return [every[place] for place in places]


def _slope(function: Callable[..., float], values: list[float], place: int) -> float:
    # The cube root of the machine epsilon balances rounding against curvature.
    step = 6e-6 * (abs(values[place]) or 1.0)
    above, below = values.copy(), values.copy()
    above[place] += step
    below[place] -= step
    return (function(*above) - function(*below)) / (2 * step)
