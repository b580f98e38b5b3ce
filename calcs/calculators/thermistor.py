"""Thermistor: sensor resistance to temperature and back, and whether it is believable."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.charts.thermistor import SENSOR_CURVE, sensor_chart
from calcs.domain.sensors.sensor_constant import resistance_by_constant, temperature_by_constant
from calcs.domain.sensors.sensor_table import (
    TABLE,
    resistance_by_table,
    table_of,
    temperature_by_table,
)
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    Rows,
    When,
)
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

BELIEVABLE = ("sensor.believable_low", "sensor.believable_high")


def thermistor(
    *,
    question: str,
    resistance: Q | None = None,
    temperature: Q | None = None,
    nominal_resistance: Q,
    beta: Q,
    maker_table: Sequence[Mapping[str, Any]] | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """Temperature that a sensor's resistance stands for, or the reverse: by constant B, by table.

    Args:
        question: "temperature" from a resistance, "resistance" from a temperature.
        resistance: Measured across the sensor, unplugged. [ohm]
        temperature: Where the resistance is wanted. [degC]
        nominal_resistance: Resistance at the nominal temperature. [ohm]
        beta: Constant B of the sensor. [K]
        maker_table: Rows of temperature and resistance as the maker prints them.
        ref: Uses `sensor.temperature_nominal`, `sensor.believable_*` and `sensor_resistances`.

    Returns:
        sensor_temperature: Temperature by B; None for an open or a shorted circuit. [degC]
        table_temperature: Temperature by the table; None outside it. [degC]
        curve_difference: By B less by the table. [K]
        sensor_resistance: Resistance, by B where it was asked for. [ohm]
        table_resistance: Resistance by the table. [ohm]
        curve_share: By B over that by the table, less the whole. [percent]

    Raises:
        Impossible: The table is no table of such a sensor.

    Not covered: sensors whose resistance rises with temperature. The curve by B leaves a maker's
    table by some per cent away from the nominal temperature.

    >>> from calcs.engine.worked_example import in_force
    >>> from calcs.engine.units import Quantity
    >>> figures = {"temperature_nominal": "25 °C", "believable_low": "-20 °C"}
    >>> figures["believable_high"] = "130 °C"
    >>> found = thermistor(
    ...     question="temperature",
    ...     resistance=Quantity(10, "kohm"),
    ...     nominal_resistance=Quantity(10, "kohm"),
    ...     beta=Quantity(3977, "K"),
    ...     ref=in_force(
    ...         {f"sensor.{name}": value for name, value in figures.items()},
    ...         {
    ...             "sensor_resistances": [
    ...                 {"temperature": "20 °C", "resistance": "12 kΩ"},
    ...                 {"temperature": "25 °C", "resistance": "10 kΩ"},
    ...             ]
    ...         },
    ...     ),
    ... )
    >>> [round(found[f"{way}_temperature"].magnitude, 9) for way in ("sensor", "table")]
    [25.0, 25.0]
    """
    curve = table_of(maker_table, ref)
    sensor = (nominal_resistance, beta, ref["sensor.temperature_nominal"])
    if question == "resistance" and temperature is not None:
        by_curve = resistance_by_constant(temperature, *sensor)
        by_table = resistance_by_table(curve, temperature)
        return {
            "sensor_temperature": temperature,
            "sensor_resistance": by_curve,
            "table_resistance": by_table,
            "curve_share": None if by_table is None else (by_curve / by_table - 1).to("percent"),
        }
    found = {"sensor_resistance": resistance}
    if resistance is None or resistance.magnitude == 0:
        return found
    warm = temperature_by_constant(resistance, *sensor)
    low, high = (ref[name].to("kelvin") for name in BELIEVABLE)
    if not low <= warm <= high:
        return found
    by_table = temperature_by_table(curve, resistance)
    return found | {
        "sensor_temperature": warm.to("degC"),
        "table_temperature": by_table,
        "curve_difference": None if by_table is None else warm - by_table.to("kelvin"),
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Open, short or believable, and against a thermometer where one was read."""
    ends = tuple(ref[name] for name in BELIEVABLE)
    nominal = ref["sensor.temperature_nominal"]
    curve = table_of(given["maker_table"], ref)
    outside = [Note("outside_table")] if curve and not _by_table(answers) else []
    if given["question"] == "resistance":
        return [*outside, sensor_chart(given, answers, (nominal, *ends), curve)]
    if "sensor_temperature" not in answers:
        return _broken(given, nominal, ends)
    findings: list[Finding] = [_circuit(answers["sensor_temperature"], ends)]
    if given["thermometer_reading"] is not None:
        measured, apart = given["thermometer_reading"].to("kelvin"), given["plausible_difference"]
        findings.append(
            Compare(
                "thermometer",
                answers.get("table_temperature", answers["sensor_temperature"]),
                (measured - apart).to("degC"),
                (measured + apart).to("degC"),
                ("sensor.plausible_difference",),
                unit="degC",
            )
        )
    return [*findings, *outside, sensor_chart(given, answers, (nominal, *ends), curve)]


def _circuit(temperature: Q, ends: tuple[Q, ...]) -> Ruling:
    """Believable with all of its uncertainty, or not to be told from an end of what is."""
    expanded_uncertainty, found = si(expanded(temperature)), si(temperature)
    if si(ends[0]) <= found - expanded_uncertainty and found + expanded_uncertainty <= si(ends[-1]):
        return Ruling("circuit", "meets", "believable", BELIEVABLE)
    return Ruling("circuit", "cannot_tell", "believable_in_uncertainty", BELIEVABLE)


def _by_table(answers: Mapping[str, Q]) -> bool:
    return "table_temperature" in answers or "table_resistance" in answers


def _broken(given: Mapping[str, Any], nominal: Q, ends: tuple[Q, ...]) -> list[Finding]:
    """A circuit that stands for no believable temperature, and kilohm typed as ohm."""
    resistance, base = si(given["resistance"]), si(given["nominal_resistance"])
    reason = "open_circuit" if resistance > base else "short_circuit"
    findings: list[Finding] = [Ruling("circuit", "does_not_meet", reason, BELIEVABLE)]
    if str(given["resistance"].units) == "ohm" and resistance > 0:
        sensor = (given["nominal_resistance"], given["beta"], nominal)
        meant = si(temperature_by_constant(1000 * given["resistance"], *sensor))
        if si(ends[0]) <= meant <= si(ends[-1]):
            number = short_number(resistance)
            values = {"typed": join_unit(number, "ohm"), "meant": join_unit(number, "kohm")}
            findings.append(Note("kilohm", values))
    return findings


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
        Input("temperature", "degC", -50, 200, ("degF",), when=FROM_DEGREES, uncertainty=STATED),
        Input(
            "nominal_resistance",
            "kohm",
            low=0.1,
            high=1000,
            also=("ohm",),
            default="sensor.resistance_nominal",
            uncertainty=STATED,
        ),
        Input("beta", "K", 1000, 6000, default="sensor.beta_first", uncertainty=STATED),
        Rows(
            "maker_table",
            (
                Input("temperature", "degC", -50, 200, ("degF",), uncertainty=STATED),
                Input("resistance", "ohm", 1, 1e8, ("kohm",), uncertainty=STATED),
            ),
            low=0,
            high=40,
        ),
        Input(
            "thermometer_reading",
            "degC",
            -50,
            200,
            ("degF",),
            optional=True,
            when=FROM_OHMS,
            uncertainty=WRITTEN,
        ),
        Input(
            "plausible_difference",
            "delta_degC",
            0.1,
            10,  # twice what is usual: further off, no sensor tells the truth
            default="sensor.plausible_difference",
            uncertainty=STATED,
        ),
        Instrument("meter", "resistance", "ohm", "multimeter", 1e6, ("kohm", "percent")),
    ),
    outputs=(
        Output("sensor_temperature", "degC", places=1),
        Output("table_temperature", "degC", places=1),
        Output("curve_difference", "delta_degC", places=1),
        Output("sensor_resistance", "ohm", places=0),
        Output("table_resistance", "ohm", places=0),
        Output("curve_share", "percent", places=1),
    ),
    sources=(Cite("sensor_textbook", "B parameter equation"),),
    uses=(
        "sensor.temperature_nominal",
        "sensor.resistance_nominal",
        "sensor.beta_first",
        "sensor.plausible_difference",
        *BELIEVABLE,
        TABLE,
    ),
    judge=judge,
    verdicts=("circuit", "thermometer"),
    notes=("outside_table", "kilohm"),
    rulings=("short_circuit", "open_circuit", "believable", "believable_in_uncertainty"),
    refusals=("one_row", "not_below_a_colder_row"),
    charts=(SENSOR_CURVE,),
)
