"""A sensor's resistance against its temperature: two common kinds, and where a reading stands.

The curves are the sensor calculator's own formula, asked point by point.
"""

from math import log10
from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import SMALL, Sheet
from build_tools.diagrams.svg import Point
from calcs.domain.sensors.sensor_constant import resistance_by_constant, temperature_by_constant
from calcs.engine.rounding import round_half_up
from calcs.engine.units import Quantity, parse_quantity

NAMES = ("nominal_resistance", "nominal_temperature", "beta", "other_beta", "reading")
PARAMS = {name: FigureName() for name in NAMES}
LEFT, RIGHT, TOP, FOOT = 62.0, 344.0, 52.0, 262.0
COLDEST, HOTTEST = 0, 100  # of the sheet, in degrees
LEAST_OHMS, MOST_OHMS = 500.0, 50_000.0  # of the sheet, in ohms; each step of ten is as tall
POINTS = 40  # of a curve


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw both curves, the point where they meet, and the reading on the first."""
    sheet.height = 318
    _axes(sheet)
    sensor, other = (Sensor(figures, params, kind) for kind in ("beta", "other_beta"))
    temperatures = [COLDEST + (HOTTEST - COLDEST) * number / POINTS for number in range(POINTS + 1)]
    for each, look in ((other, "broken"), (sensor, "line")):
        sheet.polyline(look, *(_place(t, each.resistance(t)) for t in temperatures))
    nominal = figures.number(params["nominal_temperature"], "degC")
    x, y = _place(nominal, sensor.resistance(nominal))
    sheet.circle("solid", x, y, 6)
    sheet.text(x + 12, y - 26, f"Both: {figures.text(params['nominal_resistance'])}", bold=True)
    sheet.text(x + 12, y - 8, f"at {figures.text(params['nominal_temperature'])}")
    ohms = figures.number(params["reading"], "ohm")
    reading = sensor.temperature(ohms)
    x, y = _place(reading, ohms)
    sheet.polyline("mark_fill", (x, y - 8), (x + 8, y), (x, y + 8), (x - 8, y), closed=True)
    degrees = f"{round_half_up(reading, 0)}\N{NO-BREAK SPACE}°C"
    sheet.text(x - 12, y + 18, f"Read {figures.text(params['reading'])}:", anchor="end", bold=True)
    sheet.text(x - 12, y + 36, degrees, anchor="end", bold=True)


class Sensor:
    """One kind of sensor: its resistance at one temperature, and its constant B."""

    def __init__(self, figures: Figures, params: dict[str, Any], kind: str) -> None:
        named = ("nominal_resistance", kind, "nominal_temperature")
        self.given = [parse_quantity(figures.scalar(params[name])) for name in named]

    def resistance(self, temperature: float) -> float:
        """Resistance at a temperature in degrees, in ohms."""
        found = resistance_by_constant(Quantity(temperature, "degC"), *self.given)
        return float(found.to("ohm").magnitude)

    def temperature(self, resistance: float) -> float:
        """Temperature that a resistance in ohms stands for, in degrees."""
        found = temperature_by_constant(Quantity(resistance, "ohm"), *self.given)
        return float(found.to("degC").magnitude)


def _place(temperature: float, resistance: float) -> Point:
    along = (temperature - COLDEST) / (HOTTEST - COLDEST)
    up = log10(resistance / LEAST_OHMS) / log10(MOST_OHMS / LEAST_OHMS)
    return LEFT + along * (RIGHT - LEFT), FOOT - up * (FOOT - TOP)


def _axes(sheet: Sheet) -> None:
    sheet.polyline("fine", (LEFT, TOP - 12), (LEFT, FOOT), (RIGHT, FOOT))
    sheet.text(8, 24, "Resistance, kΩ", bold=True)
    sheet.text(RIGHT, 312, "Temperature, °C", anchor="end", bold=True)
    for mark in range(COLDEST, HOTTEST + 1, 20):
        x, _ = _place(mark, LEAST_OHMS)
        sheet.polyline("fine", (x, FOOT), (x, FOOT + 6))
        sheet.text(min(x, RIGHT), FOOT + 23, str(mark), anchor="middle", size=SMALL)
    for mark in (1, 2, 5, 10, 20, 50):
        _, y = _place(COLDEST, mark * 1000)
        sheet.polyline("fine", (LEFT - 6, y), (LEFT, y))
        sheet.text(LEFT - 10, y + 5, str(mark), anchor="end", size=SMALL)
