"""Heat input against burner pressure: the curve through the data plate, and where readings stand.

The curve is the burner pressure calculator's own formula, asked point by point.
"""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import SMALL, Sheet
from calcs.calculators.burner_pressure import burner_pressure
from calcs.engine.rounding import round_half_up
from calcs.engine.units import Quantity

PARAMS = {
    "pressure_max": FigureName(),
    "pressure_min": FigureName(),
    "input_max": FigureName(),
    "found_max": FigureName(optional=True),
    "found_min": FigureName(optional=True),
}
LEFT, RIGHT, TOP, FOOT = 50.0, 344.0, 52.0, 262.0
POINTS = 40  # of the curve


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the curve, the plate's two points on it, and the readings as found."""
    sheet.height = 318
    pressures = {
        name: figures.number(params[name], "mbar")
        for name in PARAMS
        if name != "input_max" and params[name]
    }
    plate = Plate(pressures["pressure_max"], figures.number(params["input_max"], "kW"))
    _axes(sheet, plate)
    # Closer together near nought, where the curve bends most.
    steps = [plate.widest * (number / POINTS) ** 2 for number in range(1, POINTS + 1)]
    curve = [plate.place(pressure) for pressure in steps]
    sheet.polyline("line", (LEFT, FOOT), *curve)
    for name in ("pressure_max", "pressure_min"):
        _point(sheet, plate, pressures[name], "Plate", figures.text(params[name]), found=False)
    for name in ("found_max", "found_min"):
        if name in pressures:
            _point(sheet, plate, pressures[name], "Found", figures.text(params[name]), found=True)


class Plate:
    """The data plate's maximum, and where a pressure stands on the sheet."""

    def __init__(self, pressure_max: float, input_max: float) -> None:
        self.pressure_max, self.input_max = pressure_max, input_max
        self.widest, self.highest = pressure_max * 1.15, input_max * 1.15

    def heat_input(self, pressure: float) -> float:
        """Heat input that a burner pressure stands for, in kW."""
        answers: dict[str, Any] = burner_pressure(
            control="fixed",
            plate_max=Quantity(self.pressure_max, "mbar"),
            left_max=Quantity(pressure, "mbar"),
            plate_input=Quantity(self.input_max, "kW"),
        )
        return float(answers["input_left_max"].to("kW").magnitude)

    def place(self, pressure: float) -> tuple[float, float]:
        """Where the point of a pressure on the curve stands on the sheet."""
        along = pressure / self.widest
        up = self.heat_input(pressure) / self.highest
        return LEFT + along * (RIGHT - LEFT), FOOT - up * (FOOT - TOP)


def _axes(sheet: Sheet, plate: Plate) -> None:
    sheet.polyline("fine", (LEFT, TOP - 12), (LEFT, FOOT), (RIGHT, FOOT))
    sheet.text(8, 24, "Heat input, kW", bold=True)
    sheet.text(RIGHT, 312, "Burner pressure, mbar", anchor="end", bold=True)
    for mark in range(0, int(plate.widest) + 1, 5):
        x = LEFT + mark / plate.widest * (RIGHT - LEFT)
        sheet.polyline("fine", (x, FOOT), (x, FOOT + 6))
        sheet.text(x, FOOT + 23, str(mark), anchor="middle", size=SMALL)
    for mark in range(10, int(plate.highest) + 1, 10):
        y = FOOT - mark / plate.highest * (FOOT - TOP)
        sheet.polyline("fine", (LEFT - 6, y), (LEFT, y))
        sheet.text(LEFT - 10, y + 5, str(mark), anchor="end", size=SMALL)


def _point(
    sheet: Sheet, plate: Plate, pressure: float, word: str, shown: str, *, found: bool
) -> None:
    x, y = plate.place(pressure)
    low = pressure < plate.pressure_max / 2
    if found:
        sheet.polyline("mark_fill", (x, y - 7), (x + 7, y), (x, y + 7), (x - 7, y), closed=True)
    else:
        sheet.polyline("broken", (x, FOOT), (x, y), (LEFT, y))
        sheet.circle("solid", x, y, 6)
    heat = f"{round_half_up(plate.heat_input(pressure), 1)}\N{NO-BREAK SPACE}kW"
    across, down, anchor = _beside(low=low, found=found)
    sheet.text(x + across, y + down, f"{word} {shown}", anchor=anchor, size=SMALL, bold=True)
    sheet.text(x + across, y + down + 17, heat, anchor=anchor, size=SMALL)


def _beside(*, low: bool, found: bool) -> tuple[float, float, str]:
    """Where the words of a point stand, so that the four never meet."""
    if low:
        return (16.0, 40.0, "start") if found else (20.0, 4.0, "start")
    return (-82.0, 54.0, "start") if found else (4.0, -34.0, "end")
