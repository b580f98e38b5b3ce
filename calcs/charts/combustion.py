"""Carbon dioxide against oxygen: the line of the fuel and the sample."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.stoichiometry import AIR_OXYGEN
from calcs.engine.chart import LIMIT, LINE, POINTS, Axis, Chart, ChartShape, Point, Series
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

FUEL_LINE = ChartShape(
    "fuel_line",
    Axis("percent", 1),
    Axis("percent", 1),
    ("fuel", "instructions", "sample", "worked_out"),
)


def fuel_chart(given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> Chart:
    """The sample beside the line on which all samples of the fuel lie, however much air there is.

    Spare air thins the carbon dioxide in step with the oxygen that it brings: from the greatest
    carbon dioxide with no spare air, straight down to air alone.
    """
    most, air = si(answers["carbon_dioxide_max"]), si(ref[AIR_OXYGEN])
    oxygen, dioxide = given["oxygen"], given["carbon_dioxide"]
    expected = given["carbon_dioxide_expected"]
    line: list[Point] = [(0.0, most), (air, 0.0)]
    sample: list[Point] = []
    worked_out: list[Point] = []
    if oxygen is not None and dioxide is not None:
        sample = [(si(oxygen), si(dioxide), si(expanded(oxygen)), si(expanded(dioxide)))]
    elif oxygen is not None:
        at, expanded_uncertainty = si(oxygen), si(expanded(oxygen))
        worked_out = [
            (at, most * (1 - at / air), expanded_uncertainty, most * expanded_uncertainty / air)
        ]
    else:
        at, expanded_uncertainty = si(dioxide), si(expanded(dioxide))
        worked_out = [
            (air * (1 - at / most), at, air * expanded_uncertainty / most, expanded_uncertainty)
        ]
    level = None if expected is None else si(expected)
    return Chart(
        FUEL_LINE.name,
        (
            Series("fuel", LINE, line),
            Series("instructions", LIMIT, [] if level is None else [(0.0, level), (air, level)]),
            Series("sample", POINTS, sample),
            Series("worked_out", POINTS, worked_out),
        ),
    )
