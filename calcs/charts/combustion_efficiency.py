"""Efficiency against the temperature of the flue gas: where it condenses, the line bends up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.engine.chart import LINE, POINTS, Axis, Chart, ChartShape, Point, Series
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, Quantity

BASES = ("net", "gross")
BY_FLUE_TEMPERATURE = ChartShape(
    "by_flue_temperature",
    Axis("degC", 0),
    Axis("percent", 1, scale="near"),
    ("net", "gross", "measured_net", "measured_gross"),
)
PERCENT = 100.0


def efficiency_chart(
    given: Mapping[str, Any], answers: Mapping[str, Q], curve: Sequence[tuple[float, float, float]]
) -> Chart:
    """The sample on the lines that it would move along if only the flue gas were hotter or colder.

    Args:
        given: Uses the temperature of the flue gas.
        answers: Efficiency, net and gross.
        curve: Degrees Celsius with net and gross efficiency in percent.
    """
    flue = given["flue_temperature"]
    at, expanded_uncertainty, freezing = si(flue), si(expanded(flue)), si(Quantity(0.0, "degC"))
    lines: list[Series] = []
    measured: list[Series] = []
    for place, basis in enumerate(BASES, start=1):
        efficiency = answers[f"efficiency_{basis}"]
        point = (at, si(efficiency), expanded_uncertainty, si(expanded(efficiency)))
        others: list[Point] = [(freezing + row[0], row[place] / PERCENT) for row in curve]
        # The line goes through the sample, also where it bends between two points of the curve.
        lines.append(Series(basis, LINE, sorted([*others, point[:2]])))
        measured.append(Series(f"measured_{basis}", POINTS, [point]))
    return Chart(BY_FLUE_TEMPERATURE.name, (*lines, *measured))
