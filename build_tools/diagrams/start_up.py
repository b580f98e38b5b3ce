"""What follows what when a boiler starts, runs and stops. Not to scale: each has its own times."""

from typing import Any, NamedTuple

from build_tools.diagrams.given import Figures, OneOf
from build_tools.diagrams.kit import SMALL, Sheet


class Row(NamedTuple):
    """One thing that is on for some of the stages."""

    name: str
    look: str
    start: float  # in stages
    end: float


STAGES = ("Ask", "Prove", "Light", "Run", "Stop")
FAN_ASSISTED = (
    Row("Demand", "body", 0, 4),
    Row("Pump, flow", "water", 0.2, 5),
    Row("Fan", "body", 0.5, 4.6),
    Row("Air proved", "body", 1.3, 4.4),
    Row("Spark", "mark_body", 2, 2.6),
    Row("Gas valve", "gas", 2.1, 4),
    Row("Flame seen", "mark_body", 2.5, 4),
    Row("Modulation", "body", 3, 4),
    Row("Overrun", "water", 4, 5),
)
OPEN_FLUED = (
    Row("Pilot flame", "mark_body", 0, 5),
    Row("Thermocouple", "body", 0, 5),
    Row("Spill sensor", "body", 0, 5),
    Row("Demand", "body", 0.3, 4),
    Row("Pump, flow", "water", 0.5, 5),
    Row("Limits closed", "body", 1.2, 5),
    Row("Gas valve", "gas", 2, 4),
    Row("Main flame", "mark_body", 2.2, 4),
    Row("Overrun", "water", 4, 5),
)
PARAMS = {"kind": OneOf(("fan_assisted", "open_flued"))}
TOP, STEP = 52.0, 30.0  # level of the first row, and from one to the next
EDGES = (132.0, 168.0, 222.0, 270.0, 308.0, 352.0)  # of the stages, as wide as their names


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw a bar for each thing, over the stages that all of them share."""
    del figures  # times differ from one appliance to the next, so none is shown
    rows = FAN_ASSISTED if params["kind"] == "fan_assisted" else OPEN_FLUED
    foot = TOP + STEP * len(rows)
    sheet.height = foot + 34
    for number, stage in enumerate(STAGES):
        middle = (EDGES[number] + EDGES[number + 1]) / 2
        sheet.text(middle, 26, stage, anchor="middle", bold=True, size=SMALL)
    for edge in EDGES:
        sheet.polyline("broken", (edge, 34), (edge, foot))
    for number, row in enumerate(rows):
        level = TOP + number * STEP
        start, end = _along(row.start), _along(row.end)
        sheet.rect(row.look, (start, level - 8), end - start, 16, corner=3)
        sheet.text(EDGES[0] - 7, level + 6, row.name, anchor="end", size=SMALL)
    sheet.text(EDGES[0], foot + 20, "Time goes this way")
    sheet.arrow("line", (296, foot + 15), (EDGES[-1], foot + 15))


def _along(stages: float) -> float:
    """How far along the sheet so many stages end."""
    whole = min(int(stages), len(STAGES) - 1)
    return EDGES[whole] + (stages - whole) * (EDGES[whole + 1] - EDGES[whole])
