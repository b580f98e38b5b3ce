"""Partial derivatives: how each operation hands on a change of an operand, in SI base units."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from calcs.engine.traced import Node, Traced, si


def _chosen(operands: tuple[Any, ...], result: Traced) -> list[float]:
    first = [si(one) for one in operands].index(si(result))
    return [1.0 if place == first else 0.0 for place in range(len(operands))]


def _of_power(operands: tuple[Any, ...], result: Traced) -> list[float]:
    # The exponent of a formula is a pure number without uncertainty.
    value, exponent = si(operands[0]), si(operands[1])
    return [exponent * si(result) / value if value else 0.0, 0.0]


def _of_root(_operands: tuple[Any, ...], result: Traced) -> list[float]:
    root = si(result)
    return [0.5 / root if root else 0.0]


# Partial derivatives of each sign, in SI base units, from the operands and the result.
_SLOPES: dict[str, Callable[[tuple[Any, ...], Traced], list[float]]] = {
    "+": lambda _o, _r: [1.0, 1.0],
    "−": lambda _o, _r: [1.0, -1.0],
    "×": lambda o, _r: [si(o[1]), si(o[0])],
    "÷": lambda o, r: [1.0 / si(o[1]), -si(r) / si(o[1])],
    "^": _of_power,
    "√": _of_root,
    "0−": lambda _o, _r: [-1.0],
    "abs": lambda o, _r: [math.copysign(1.0, si(o[0]))],
    "to": lambda _o, _r: [1.0],
    "the greater of": _chosen,
    "the smaller of": _chosen,
}


def slopes(result: Traced, node: Node, places: list[int]) -> list[float]:
    """Partial derivatives of the operation that made a result, for the operands at some places."""
    if node.slopes is not None:
        return [node.slopes[place] for place in places]
    if node.function is not None:
        values = [si(one) for one in node.operands]
        return [_slope(node.function, values, place) for place in places]
    every = _SLOPES[node.op](node.operands, result)
    return [every[place] for place in places]


def _slope(function: Callable[..., float], values: list[float], place: int) -> float:
    # The cube root of the machine epsilon balances rounding against curvature.
    step = 6e-6 * (abs(values[place]) or 1.0)
    above, below = values.copy(), values.copy()
    above[place] += step
    below[place] -= step
    return (function(*above) - function(*below)) / (2 * step)
