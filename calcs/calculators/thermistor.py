"""Thermistor: sensor resistance to temperature and back, and whether it is believable."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.charts.thermistor import SENSOR_CURVE, sensor_chart
from calcs.core import (
    Calculator,
    Choice,
    Cite,
    Compare,
    Finding,
    Input,
    Instrument,
    Output,
    Ruling,
    When,
)
from calcs.traced import apply
from calcs.units import Q

BELIEVABLE = ("sensor.believable_low", "sensor.believable_high")


def thermistor(
    *,
    question: str,
    resistance: Q | None = None,
    temperature: Q | None = None,
    nominal_resistance: Q,
    beta: Q,
    ref: Mapping[str, Q],
) -> dict[str, Q | None]:
    """Temperature that a sensor's resistance stands for, by its constant B, or the reverse.

    Args:
        question: "temperature" from a resistance, "resistance" from a temperature.
        resistance: Measured across the sensor, unplugged. [ohm]
        temperature: Where the resistance is wanted. [degC]
        nominal_resistance: Resistance at the nominal temperature. [ohm]
        beta: Constant B of the sensor. [K]
        ref: Uses `sensor.temperature_nominal`.

    Returns:
        sensor_temperature: Temperature; None for a dead short. [degC]
        sensor_resistance: Resistance. [ohm]

    Not covered: the maker's own table. The curve by B leaves it by some per cent away from the
    nominal temperature.

    >>> from calcs.units import Quantity
    >>> found = thermistor(
    ...     question="temperature",
    ...     resistance=Quantity(10, "kohm"),
    ...     nominal_resistance=Quantity(10, "kohm"),
    ...     beta=Quantity(3977, "K"),
    ...     ref={"sensor.temperature_nominal": Quantity(25, "degC")},
    ... )
    >>> round(found["sensor_temperature"].magnitude, 9)
    25.0
    """
    nominal = ref["sensor.temperature_nominal"].to("kelvin")
    if question == "resistance" and temperature is not None:
        steepness = beta * (1 / temperature.to("kelvin") - 1 / nominal)
        return {
            "sensor_temperature": temperature,
            "sensor_resistance": nominal_resistance * apply("exp", math.exp, steepness),
        }
    if resistance is None or resistance.magnitude == 0:
        return {"sensor_resistance": resistance}
    logarithm = apply("ln", math.log, resistance / nominal_resistance)
    return {
        "sensor_resistance": resistance,
        "sensor_temperature": (1 / (1 / nominal + logarithm / beta)).to("degC"),
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Open, short or believable, and against a thermometer where one was read."""
    low, high = (ref[name] for name in BELIEVABLE)
    nominal = ref["sensor.temperature_nominal"]
    if given["question"] == "resistance":
        return [sensor_chart(given, answers, nominal, (low, high))]
    found = answers.get("sensor_temperature")
    if found is None or found > high:
        return [Ruling("circuit", "does_not_meet", "short_circuit", BELIEVABLE)]
    if found < low:
        return [Ruling("circuit", "does_not_meet", "open_circuit", BELIEVABLE)]
    findings: list[Finding] = [Ruling("circuit", "meets", "believable", BELIEVABLE)]
    if given["thermometer_reading"] is not None:
        measured, apart = given["thermometer_reading"].to("kelvin"), given["plausible_difference"]
        findings.append(
            Compare(
                "thermometer",
                found,
                (measured - apart).to("degC"),
                (measured + apart).to("degC"),
                ("sensor.plausible_difference",),
                unit="degC",
            )
        )
    return [*findings, sensor_chart(given, answers, nominal, (low, high))]


FROM_OHMS, FROM_DEGREES = (When("question", (asked,)) for asked in ("temperature", "resistance"))

CALCULATOR = Calculator(
    formula=thermistor,
    inputs=(
        Choice("question", ("temperature", "resistance"), default="temperature"),
        Input(
            "resistance",
            "ohm",
            low=0,
            high=1e8,
            also=("kohm", "Mohm"),
            when=FROM_OHMS,
            read_with="meter",
        ),
        Input("temperature", "degC", -50, 200, ("degF",), when=FROM_DEGREES),
        Input(
            "nominal_resistance",
            "kohm",
            low=0.1,
            high=1000,
            also=("ohm",),
            default="sensor.resistance_nominal",
        ),
        Input("beta", "K", 1000, 6000, default="sensor.beta_first"),
        Input("thermometer_reading", "degC", -50, 200, ("degF",), optional=True, when=FROM_OHMS),
        Input("plausible_difference", "delta_degC", 0.1, 50, default="sensor.plausible_difference"),
        Instrument("meter", "resistance", "ohm", "multimeter", 1e6, ("kohm", "percent")),
    ),
    outputs=(
        Output("sensor_temperature", "degC", places=1),
        Output("sensor_resistance", "ohm", places=0),
    ),
    sources=(Cite("sensor_textbook", "B parameter equation"),),
    uses=(
        "sensor.temperature_nominal",
        "sensor.resistance_nominal",
        "sensor.beta_first",
        "sensor.plausible_difference",
        *BELIEVABLE,
    ),
    judge=judge,
    verdicts=("circuit", "thermometer"),
    rulings=("short_circuit", "open_circuit", "believable"),
    charts=(SENSOR_CURVE,),
)
