"""Values between the rows of a table."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.traced import si
from calcs.engine.traced_functions import apply
from calcs.engine.units import Q, parse_quantity


def straight_line(points: Sequence[tuple[float, float]], at: float) -> float:
    """Linear interpolation; beyond the ends the last stretch goes on.

    Args:
        points: Pairs in ascending order of the first.
        at: Where the value is wanted.

    >>> straight_line([(0, 10), (10, 20)], 2.5)
    12.5
    """
    after = min(max(bisect_right(points, at, key=lambda point: point[0]), 1), len(points) - 1)
    (left, low), (right, high) = points[after - 1], points[after]
    return low + (high - low) * (at - left) / (right - left)


def from_table(
    ref: Any, table: str, columns: tuple[str, str], *, field: str, at: Q, unit: str
) -> Q:
    """Value of a table's second column where its first has a given value.

    Args:
        ref: Figures in force.
        table: Name of the table; its first column ascends.
        columns: Names of the column that is known and of the one wanted.
        field: Input that `at` comes from, for the refusal.
        at: Known value.
        unit: Unit of the result.

    Raises:
        Impossible: `at` is outside the table.
    """
    rows = [tuple(si(parse_quantity(row[name])) for name in columns) for row in ref.rows(table)]
    points = [(known, wanted) for known, wanted in rows]
    if not points[0][0] <= si(at) <= points[-1][0]:
        first, last = (ref.rows(table)[end][columns[0]] for end in (0, -1))
        raise Impossible(field, "outside_table", first=first, last=last)
    label = columns[1].replace("_", " ")
    return apply(f"{label} from the table at", _curve(points), at, unit=unit)


def _curve(points: Sequence[tuple[float, float]]) -> Callable[[float], float]:
    return lambda at: straight_line(points, at)
