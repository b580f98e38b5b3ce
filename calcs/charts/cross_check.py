"""What each reading says of one thing, side by side: heat input, pressure lost, flue gas."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.engine.chart import POINTS, Axis, Chart, ChartShape, Series
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

# One line for each way, from the top; its label says which.
INPUT_WAYS = ("heat_input_rate", "heat_input_burner", "heat_input_plate", "heat_input_water")
LOSS_WAYS = ("loss_read", "loss_expected")
DIOXIDE_WAYS = ("dioxide_read", "dioxide_by_oxygen", "dioxide_plate")
INPUT_SAID = ChartShape("input_said", Axis("kW", 1, "near"), Axis("", 0), INPUT_WAYS)
LOSS_SAID = ChartShape("loss_said", Axis("mbar", 2, "near"), Axis("", 0), LOSS_WAYS)
DIOXIDE_SAID = ChartShape("dioxide_said", Axis("percent", 1, "near"), Axis("", 0), DIOXIDE_WAYS)
SHAPES = (INPUT_SAID, LOSS_SAID, DIOXIDE_SAID)
LEAST = 2  # a single reading has nothing beside it


def said_charts(answers: Mapping[str, Q]) -> list[Chart]:
    """A chart of each thing that at least two readings speak of."""
    found = []
    for shape in SHAPES:
        ways = [name for name in shape.series if name in answers]
        if len(ways) >= LEAST:
            found.append(_chart(shape, answers))
    return found


def _chart(shape: ChartShape, answers: Mapping[str, Q]) -> Chart:
    count = len(shape.series)
    series = []
    for place, name in enumerate(shape.series):
        value = answers.get(name)
        points = []
        if value is not None:
            points = [(si(value), float(count - place), si(expanded(value)), 0.0)]
        series.append(Series(name, POINTS, points))
    return Chart(shape.name, tuple(series))
