"""Carbon monoxide over time: the readings, the level at which work stops, the worst stretch."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.chart import LIMIT, LINE, POINTS, Axis, Chart, ChartShape, Series
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

OVER_TIME = ChartShape(
    "over_time",
    Axis("min", 0),
    Axis("ppm", 1),
    ("between", "stop", "stretch", "background", "readings"),
)


def time_chart(given: Mapping[str, Any], answers: Mapping[str, Q], start: float, stop: Q) -> Chart:
    """The readings in the order of the clock.

    Args:
        given: `readings` and `background`.
        answers: The highest mean and its period, where the readings cover one.
        start: When the stretch with that mean begins, in s.
        stop: Level at which work stops.
    """
    readings = [(si(one["time"]), one["carbon_monoxide"]) for one in given["readings"]]
    first, last = readings[0][0], readings[-1][0]
    background, stretch = given["background"], []
    if "guideline_mean" in answers:
        level, period = si(answers["guideline_mean"]), si(answers["guideline_period"])
        stretch = [(start, level), (start + period, level)]

    def across(level: Q | None) -> list[tuple[float, float]]:
        return [] if level is None else [(first, si(level)), (last, si(level))]

    return Chart(
        OVER_TIME.name,
        (
            Series("between", LINE, [(time, si(value)) for time, value in readings]),
            Series("stop", LIMIT, across(stop)),
            Series("stretch", LIMIT, stretch),
            Series("background", LIMIT, across(background)),
            Series(
                "readings",
                POINTS,
                [(time, si(value), 0.0, si(expanded(value))) for time, value in readings],
            ),
        ),
    )
