"""Charts beside an answer: the curve, what it is held against, and the reader's own points.

A chart is made of plain numbers in SI base units; here they become numbers of its axes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeAlias

from calcs.engine.units import Quantity, parse_unit, unit_text

# x and y, then how far the true values may be from them to either side.
WidePoint: TypeAlias = tuple[float, float, float, float]
Point: TypeAlias = tuple[float, float] | WidePoint
LINE, LIMIT, POINTS, MARKS = "line", "limit", "points", "marks"


@dataclass(frozen=True)
class Axis:
    """One axis.

    Args:
        unit: Unit of its numbers.
        places: Decimal places they are shown with.
        scale: "linear", which for an upright axis begins at nought, "near", which keeps to the
            points, or "log".
    """

    unit: str
    places: int
    scale: str = "linear"


@dataclass(frozen=True)
class ChartShape:
    """A chart that `judge` may give; `series` are all that it may hold, in the order drawn."""

    name: str
    x: Axis
    y: Axis
    series: tuple[str, ...]


@dataclass(frozen=True)
class Series:
    """Points of one kind.

    Args:
        name: Name of one of the chart's series.
        kind: "line" for what the formula says, "limit" for what it is held against, "points" for
            readings, "marks" for figures that the reader was given.
        points: In SI base units. None between two points breaks a line.
    """

    name: str
    kind: str
    points: Sequence[Point | None]


@dataclass(frozen=True)
class Chart:
    """All series of one of the calculator's charts, those without points too.

    The place of a series among the others of its kind decides what it looks like.
    """

    name: str
    series: tuple[Series, ...]


def shape_facts(shape: ChartShape, words: Mapping[str, Any]) -> dict[str, Any]:
    """Name, label and axes of a chart, as JSON."""
    own = words.get("charts", {}).get(shape.name, {})
    return {
        "name": shape.name,
        "label": own.get("label", shape.name.replace("_", " ")),
        **{
            name: {
                "label": own.get(name, name),
                "unit": axis.unit,
                "text": unit_text(axis.unit),
                "places": axis.places,
                "scale": axis.scale,
            }
            for name, axis in (("x", shape.x), ("y", shape.y))
        },
    }


def chart_facts(chart: Chart, shape: ChartShape, words: Mapping[str, Any]) -> dict[str, Any]:
    """A chart with its points in the units of its axes, as JSON.

    Six digits that count: more than any screen shows, and one text on every machine where a
    logarithm may differ in its last.
    """
    labels = words.get("charts", {}).get(shape.name, {}).get("series", {})
    scales = (_scale(shape.x.unit), _scale(shape.y.unit))
    return {
        **shape_facts(shape, words),
        "series": [
            {
                "name": series.name,
                "label": labels.get(series.name, series.name.replace("_", " ")),
                "kind": series.kind,
                "points": [_shown(point, scales) for point in series.points],
            }
            for series in chart.series
        ],
    }


def _shown(
    point: Point | None, scales: tuple[tuple[float, float], tuple[float, float]]
) -> list[float] | None:
    if point is None:
        return None
    values = [
        (value - offset) / factor for value, (factor, offset) in zip(point[:2], scales, strict=True)
    ]
    widths = [value / factor for value, (factor, _) in zip(point[2:], scales, strict=False)]
    return [float(f"{value:.6g}") for value in (*values, *widths)]


@lru_cache(maxsize=64)
def _scale(unit: str) -> tuple[float, float]:
    """What one of a unit is in SI base units, and where its scale begins."""
    parsed = parse_unit(unit)
    start, one = (float(Quantity(n, parsed).to_base_units().magnitude) for n in (0.0, 1.0))
    return one - start, start


def spread(low: float, high: float, steps: int) -> Iterable[float]:
    """Numbers at even steps from `low` to `high`, both among them.

    >>> list(spread(0, 1, 4))
    [0.0, 0.25, 0.5, 0.75, 1.0]
    """
    return (low + (high - low) * step / steps for step in range(steps + 1))
