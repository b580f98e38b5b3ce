"""Heat input against burner pressure: the curve, the data plate's points and the readings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.engine.chart import (
    LINE,
    MARKS,
    POINTS,
    Axis,
    Chart,
    ChartShape,
    Series,
    WidePoint,
    spread,
)
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

SERIES = ("curve", "plate", "found", "left", "cover")
STAGES = SERIES[2:]
INPUT_CURVE = ChartShape("input_curve", Axis("mbar", 1), Axis("kW", 2), SERIES)
# Where the plate's heat input was not typed: the same curve as a share of it.
SHARE_CURVE = ChartShape("share_curve", Axis("mbar", 1), Axis("percent", 0), SERIES)
SHAPES = (INPUT_CURVE, SHARE_CURVE)
STEPS = 24
ROOM_BEYOND = 1.1  # the curve goes on a little beyond the greatest pressure


def input_chart(given: Mapping[str, Any]) -> Chart:
    """The chart of one set of readings; the pressures are those of `burner_pressure`."""
    full = given["plate_input"] if given["plate_input"] is not None else given["plate_input_gross"]
    most, height = si(given["plate_max"]), 1.0 if full is None else si(full)

    def point(pressure: Q, expanded_uncertainty: float, *, uncertain: bool = True) -> WidePoint:
        at = si(pressure)
        implied = height * math.sqrt(at / most)
        slope = implied / (2 * at) if uncertain else 0.0  # of a square root
        return at, implied, expanded_uncertainty, slope * expanded_uncertainty

    tolerance = si(given["tolerance"])
    # The habit of the trade is for the maximum alone.
    at_minimum = tolerance if given["tolerance"].role == "input" else 0.0
    groups = {
        "plate": [
            point(value, permitted, uncertain=False)
            for value, permitted in (
                (given["plate_max"], tolerance),
                (given["plate_min"], at_minimum),
            )
            if value is not None
        ],
        **{
            stage: [
                point(value, si(expanded(value)))
                for end in ("max", "min")
                if (value := given[f"{stage}_{end}"]) is not None
            ]
            for stage in STAGES
        },
    }
    greatest = ROOM_BEYOND * max(one[0] + one[2] for points in groups.values() for one in points)
    # Even steps of the root, so that the steep start of the curve has as many as the rest.
    roots = spread(0.0, math.sqrt(greatest), STEPS)
    curve = [(root * root, height * root / math.sqrt(most)) for root in roots]
    series = [
        Series(name, MARKS if name == "plate" else POINTS, points)
        for name, points in groups.items()
    ]
    shape = SHARE_CURVE if full is None else INPUT_CURVE
    return Chart(shape.name, (Series("curve", LINE, curve), *series))
