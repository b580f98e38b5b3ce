"""Quantities that remember how they came about.

A formula is run with `Traced` values in place of plain quantities. Each result keeps the operation
and its operands, so that the working shown to the reader (`working.py`) and the uncertainty
(`uncertainty.py`) are both derived from the code that ran, branch by branch, and no formula is
typed twice.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from calcs.engine import unit_algebra
from calcs.engine.units import Q, Quantity, ureg


class Node(NamedTuple):
    """One operation: its sign or name, its operands, and how it is computed on plain SI numbers.

    Where `slopes` holds the partial derivatives by those numbers, they need no finding out.

    A tuple: one is made at every operation, and a frozen dataclass takes several times as long.
    """

    op: str
    operands: tuple[Any, ...]
    function: Callable[..., float] | None = None
    slopes: tuple[float, ...] | None = None


class UncertaintyParts(NamedTuple):
    """What the standard uncertainty of a reading is made of, in SI base units.

    Args:
        instrument: Name of the instrument's input.
        step: From the smallest step that it shows.
        accuracy: From how far off its maker says that it may be.
    """

    instrument: str
    step: float
    accuracy: float


class Traced(Quantity):  # type: ignore[misc]  # pint makes the class at run time
    """A quantity with a name (an input, a figure, an answer) or the operation that made it."""

    name: str | None = None
    label: str | None = None
    role: str = "result"  # "input", "figure" or "result"
    typed_places: int = 0  # decimal places of an input as it was typed: what the instrument showed
    node: Node | None = None
    standard_uncertainty: Q | None = None
    uncertainty_parts: UncertaintyParts | None = None  # of a reading that an instrument took
    uncertainties: Mapping[int, float] | None = None  # kept by uncertainty.py
    base: float | None = None  # kept by `si`

    @property
    def units(self) -> Any:
        """The unit. pint makes a new object of it at each look."""
        return unit_algebra.unit_of(self._units)

    def _made(self, result: Any, op: str, *operands: Any) -> Any:
        if result is NotImplemented:
            return result
        # pint makes its result of the class of `self`: a fresh one needs no copy.
        fresh = type(result) is Traced and result.node is None and result is not self
        traced = result if fresh else make_traced(result._magnitude, result._units)
        traced.node = Node(op, operands)
        return traced

    def __mul__(self, other: Any) -> Any:
        quick = _scaled("×", self, other)
        return self._made(super().__mul__(other), "×", self, other) if quick is None else quick

    def __rmul__(self, other: Any) -> Any:
        quick = _scaled("×", other, self)
        return self._made(super().__rmul__(other), "×", other, self) if quick is None else quick

    def __truediv__(self, other: Any) -> Any:
        quick = _scaled("÷", self, other)
        return self._made(super().__truediv__(other), "÷", self, other) if quick is None else quick

    def __rtruediv__(self, other: Any) -> Any:
        quick = _scaled("÷", other, self)
        # Not pint's own method: it is asked for Quantity / Traced too and knows only numbers.
        return self._made(other / _plain(self), "÷", other, self) if quick is None else quick

    def __add__(self, other: Any) -> Any:
        quick = _summed("+", self, other)
        return self._made(super().__add__(other), "+", self, other) if quick is None else quick

    def __radd__(self, other: Any) -> Any:
        quick = None if isinstance(other, Quantity) else _summed("+", other, self)
        return self._made(super().__add__(other), "+", other, self) if quick is None else quick

    def __sub__(self, other: Any) -> Any:
        quick = _summed("−", self, other)
        return self._made(super().__sub__(other), "−", self, other) if quick is None else quick

    def __rsub__(self, other: Any) -> Any:
        quick = _summed("−", other, self)
        return self._made(other - _plain(self), "−", other, self) if quick is None else quick

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
        if isinstance(other, str | ureg.Unit) and not contexts:
            units = unit_algebra.container(other)
            scale = unit_algebra.scale(self._units, units)
            if scale is not None:
                factor, start = scale
                return make_traced(self._magnitude * factor + start, units, "to", self)
        return self._made(super().to(other, *contexts, **kwargs), "to", self)

    def compare(self, other: Any, op: Callable[[float, float], bool]) -> Any:
        """What `<` and its like ask; in the units that pint compares in."""
        if isinstance(other, Quantity):
            if self._units == other._units:
                return op(self._magnitude, other._magnitude)
            root = unit_algebra.root(self._units)
            left, right = (unit_algebra.factor(one._units, root) for one in (self, other))
            if left is not None and right is not None:
                return op(self._magnitude * left, other._magnitude * right)
        return super().compare(other, op)


def make_traced(
    magnitude: float, units: unit_algebra.Units, op: str = "", *operands: Any
) -> Traced:
    """What `Traced(magnitude, units)` makes, without the questions of pint's own constructor.

    Args:
        magnitude: Number in these units.
        units: Its units, as `unit_algebra` has them.
        op: Sign or name of the operation that made it; empty for none.
        operands: What it was made of.
    """
    made: Traced = _made_of(Traced)
    made._magnitude, made._units = magnitude, units
    if op:
        made.node = _node(Node, (op, operands, None, None))
    return made


# What the classes' own constructors end in: one of each is made at every operation.
_made_of, _node = object.__new__, tuple.__new__


_SCALING = {
    "×": (operator.mul, unit_algebra.product),
    "÷": (operator.truediv, unit_algebra.quotient),
}
_SUMMING = {"+": operator.add, "−": operator.sub}


def _scaled(op: str, left: Any, right: Any) -> Traced | None:
    """A product or a quotient; None where pint has to decide."""
    compute, algebra = _SCALING[op]
    numbers, units = [], []
    for one in (left, right):
        if isinstance(one, Quantity):
            numbers.append(one._magnitude)
            units.append(one._units)
        elif isinstance(one, float | int):
            numbers.append(one)
            units.append(unit_algebra.NO_UNIT)
        else:
            return None
    found = algebra(*units)
    return None if found is None else make_traced(compute(*numbers), found, op, left, right)


def _summed(op: str, left: Any, right: Any) -> Traced | None:
    """A sum or a difference; None where pint has to decide.

    It is in the units of `left`. Beside a pure number it is a pure number too: 1 − 20 % is 0.8.
    """
    units = left._units if isinstance(left, Quantity) else unit_algebra.NO_UNIT
    if not isinstance(right, Quantity):
        units = unit_algebra.NO_UNIT
    numbers = []
    for one in (left, right):
        if isinstance(one, Quantity):
            factor = unit_algebra.factor(one._units, units)
            if factor is None:
                return None
            numbers.append(one._magnitude * factor)
        elif one and isinstance(one, float | int):  # pint lets nought have any unit
            numbers.append(one)
        else:
            return None
    return make_traced(_SUMMING[op](*numbers), units, op, left, right)


def _plain(value: Traced) -> Q:
    return Quantity(value.magnitude, value.units)


def named(value: Q, name: str, label: str, role: str = "result") -> Traced:
    """A copy of `value` that stands under its own name where it is used."""
    copy = make_traced(value._magnitude, value._units)
    copy.name, copy.label, copy.role = name, label, role
    if isinstance(value, Traced):
        # A value that has a name (an input handed back as an answer) becomes its only operand.
        copy.node = Node("to", (value,)) if value.name else value.node
    return copy


def si(value: Any) -> float:
    """Plain number in SI base units of a quantity or a pure number."""
    if isinstance(value, Traced):
        if value.base is None:
            value.base = _si(value)
        return value.base
    return _si(value) if isinstance(value, Quantity) else float(value)


def _si(value: Q) -> float:
    scale = unit_algebra.base_scale(value._units)
    if scale is None:
        return float(value.to_base_units().magnitude)
    factor, start = scale
    return float(value._magnitude * factor + start)
