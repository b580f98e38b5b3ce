"""Resistance against temperature: the sensor's curve, the reading and what a thermometer says."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from calcs.domain.sensors.sensor_table import Curve, ohms_at
from calcs.engine.chart import LINE, MARKS, POINTS, Axis, Chart, ChartShape, Point, Series, spread
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

# The resistance falls to a hundredth over the range of a heating system.
SENSOR_CURVE = ChartShape(
    "sensor_curve",
    Axis("degC", 1),
    Axis("kohm", 3, scale="log"),
    ("curve", "table", "thermometer", "wanted", "sensor"),
)
STEP = 5  # kelvin


def sensor_chart(
    given: Mapping[str, Any],
    answers: Mapping[str, Q],
    temperatures: tuple[Q, ...],
    table: Curve,
) -> Chart:
    """The curve by B between two temperatures, with the point that was asked for.

    Args:
        given: The inputs.
        answers: Temperature and resistance.
        temperatures: That of the nominal resistance, then the first and the last of the curve.
        table: The maker's table; empty for none.
    """
    nominal, *ends = temperatures
    beta, resistance, base = si(given["beta"]), si(given["nominal_resistance"]), si(nominal)
    temperature, found = si(answers["sensor_temperature"]), si(answers["sensor_resistance"])

    def on_curve(kelvin: float) -> float:
        return resistance * math.exp(beta * (1 / kelvin - 1 / base))

    low, high = (si(end) for end in ends)
    low, high = min(low, temperature), max(high, temperature)
    steps = max(1, round((high - low) / STEP))
    curve = [(kelvin, on_curve(kelvin)) for kelvin in spread(low, high, steps)]
    point = (temperature, found, *_widths(answers))
    asked = given["question"] == "temperature"
    return Chart(
        SENSOR_CURVE.name,
        (
            Series("curve", LINE, curve),
            Series("table", LINE, _table_line(table)),
            Series("thermometer", MARKS, _thermometer(given, on_curve)),
            Series("wanted", MARKS, [] if asked else [point]),
            Series("sensor", POINTS, [point] if asked else []),
        ),
    )


def _table_line(table: Curve) -> list[Point]:
    """The rows and what lies between them, bent as the sensor is."""
    rows = sorted(1 / inverse for _, inverse in table)
    between = [
        kelvin
        for cold, warm in pairwise(rows)
        for kelvin in spread(cold, warm, max(1, round((warm - cold) / STEP)))
    ]
    return [(kelvin, ohms_at(table, kelvin)) for kelvin in sorted({*between})]


def _widths(answers: Mapping[str, Q]) -> tuple[float, float]:
    temperature, resistance = answers["sensor_temperature"], answers["sensor_resistance"]
    return si(expanded(temperature)), si(expanded(resistance))


def _thermometer(given: Mapping[str, Any], on_curve: Any) -> list[Point]:
    reading = given["thermometer_reading"]
    if reading is None:
        return []
    kelvin = si(reading)
    return [(kelvin, on_curve(kelvin), si(given["plausible_difference"]), 0.0)]
