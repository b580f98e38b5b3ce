"""Unit converter: one figure in every unit of its kind that the trade meets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.declarations import STATED, Calculator, Choice, Cite, Input, Output, When
from calcs.engine.findings import Finding, Note
from calcs.engine.rounding import short_number
from calcs.engine.unit_algebra import base_factor, container
from calcs.engine.units import Q, Quantity, join_unit, parse_unit

# By kind and name of the unit: how calcs.engine.units spells it.
UNITS: Mapping[str, Mapping[str, str]] = {
    "pressure": {
        "millibar": "mbar",
        "pascal": "Pa",
        "kilopascal": "kPa",
        "bar": "bar",
        "inch_water_gauge": "inWG",
        "millimetre_water_gauge": "mmWG",
        "pound_square_inch": "psi",
    },
    "heat_input": {
        "kilowatt": "kW",
        "watt": "W",
        "british_thermal_unit": "Btu/h",
        "megajoule": "MJ/h",
    },
    "energy": {
        "kilowatt_hour": "kWh",
        "megajoule": "MJ",
        "british_thermal_unit": "Btu",
        "therm": "therm",
    },
    "calorific_value": {
        "megajoule": "MJ/m**3",
        "kilowatt_hour": "kWh/m**3",
        "british_thermal_unit": "Btu/ft**3",
    },
    "volume": {
        "cubic_metre": "m**3",
        "litre": "litre",
        "cubic_foot": "ft**3",
        "gallon": "imperial_gallon",
    },
    "flow": {
        "cubic_metre": "m**3/h",
        "litre": "litre/min",
        "litre_second": "litre/s",
        "cubic_foot": "ft**3/h",
        "gallon": "imperial_gallon/min",
    },
    "temperature": {"celsius": "degC", "fahrenheit": "degF", "kelvin": "kelvin"},
    "temperature_difference": {"celsius": "delta_degC", "fahrenheit": "delta_degF"},
    "length": {"millimetre": "mm", "metre": "m", "inch": "inch", "foot": "ft"},
    "area": {
        "square_centimetre": "cm**2",
        "square_millimetre": "mm**2",
        "square_metre": "m**2",
        "square_inch": "inch**2",
        "square_foot": "ft**2",
    },
}
# Smallest and greatest figure that the form takes, in the first unit of the kind.
RANGES = {
    # From an empty space on: the highest air pressure of a form, less than nothing at all.
    "pressure": (-1100, 1e6),
    "heat_input": (0, 1e6),
    "energy": (0, 1e9),
    "calorific_value": (0, 1000),
    "volume": (0, 1e7),
    "flow": (0, 1e6),
    "temperature": (-273.15, 3000),
    "temperature_difference": (-3000, 3000),
    "length": (0, 1e8),
    "area": (0, 1e9),
}
AIR = "reference_state.pressure"
REFERENCE = "reference_state.temperature"
RATIO = "gas.natural_gas.gross_to_net"
DIGITS = 7  # as many as the published factors have


def unit_converter(
    *,
    kind: str,
    pressure: Q | None = None,
    heat_input: Q | None = None,
    energy: Q | None = None,
    calorific_value: Q | None = None,
    volume: Q | None = None,
    flow: Q | None = None,
    temperature: Q | None = None,
    temperature_difference: Q | None = None,
    length: Q | None = None,
    area: Q | None = None,
) -> dict[str, Q | None]:
    """One figure in every unit of its kind.

    Args:
        kind: Which of the others is given.
        pressure: Any. [mbar]
        heat_input: Any. [kW]
        energy: Any. [kWh]
        calorific_value: Gross or net. [MJ/m**3]
        volume: Any. [m**3]
        flow: Of gas or water. [m**3/h]
        temperature: On a scale. [degC]
        temperature_difference: A rise or a fall. [delta_degC]
        length: Any. [mm]
        area: Any. [cm**2]

    Returns:
        The figure in each unit, under the kind and the name of the unit.

    Not covered: gauge to absolute pressure, gross to net, and volumes from one state to another.
    Those are not changes of unit.

    >>> found = unit_converter(kind="pressure", pressure=Quantity(21, "mbar"))
    >>> found["pressure_pascal"].magnitude
    2100.0
    """
    given = {
        "pressure": pressure,
        "heat_input": heat_input,
        "energy": energy,
        "calorific_value": calorific_value,
        "volume": volume,
        "flow": flow,
        "temperature": temperature,
        "temperature_difference": temperature_difference,
        "length": length,
        "area": area,
    }
    figure = given[kind]
    return {f"{kind}_{name}": convert(figure, unit) for name, unit in UNITS[kind].items()}


def convert(figure: Q, unit: str) -> Q:
    """A figure in another unit, as a product with the factor between the two.

    Temperatures on a scale have no such factor; pint converts them.
    """
    there, here = parse_unit(unit), figure.units
    factors = [base_factor(container(one)) for one in (here, there)]
    if here == there or None in factors:
        return figure.to(there)
    times, over = (float(factor) for factor in factors if factor is not None)
    return (figure * Quantity(times / over, there / here)).to(there)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """What looks like a change of unit and is none."""
    match given["kind"]:
        case "pressure":
            absolute = answers["pressure_millibar"] + ref[AIR]
            return [
                Note("gauge_or_absolute", {"absolute": _text(absolute), "air": _text(ref[AIR])})
            ]
        case "heat_input" | "energy" | "calorific_value" as kind:
            return _gross_or_net(given[kind], kind, ref)
        case "volume":
            return _hundreds(given["volume"])
        case "temperature":
            return [Note("difference_or_scale")]
        case "length":
            return [Note("nominal_size")]
        case "area":
            return [Note("area_of_ten")]
    return []


def _text(value: Q) -> str:
    return join_unit(short_number(float(value.magnitude), DIGITS), value.units)


def _gross_or_net(figure: Q, kind: str, ref: Any) -> list[Finding]:
    ratio = ref[RATIO]
    values = {
        "ratio": short_number(float(ratio.magnitude)),
        "net": _text(figure / ratio),
        "gross": _text(figure * ratio),
    }
    findings: list[Finding] = [Note("gross_or_net", values)]
    if kind == "calorific_value":
        state = {"temperature": _text(ref[REFERENCE]), "pressure": _text(ref[AIR])}
        findings.append(Note("reference_state", state))
    return findings


def _hundreds(volume: Q) -> list[Finding]:
    notes: list[Finding] = [Note("metered_or_corrected")]
    if volume.units == parse_unit("ft**3"):
        notes.append(Note("index_in_hundreds", {"hundred": _text(100 * volume.to("m**3"))}))
    return notes


def _input(kind: str) -> Input:
    unit, *others = UNITS[kind].values()
    low, high = RANGES[kind]
    return Input(
        kind, unit, low, high, also=tuple(others), when=When("kind", (kind,)), uncertainty=STATED
    )


CALCULATOR = Calculator(
    formula=unit_converter,
    inputs=(
        Choice("kind", tuple(UNITS), default="pressure"),
        *(_input(kind) for kind in UNITS),
    ),
    outputs=tuple(
        Output(
            f"{kind}_{name}",
            unit,
            places=DIGITS,
            significant=True,
            no_uncertainty_reason="converted",
        )
        for kind, units in UNITS.items()
        for name, unit in units.items()
    ),
    sources=(Cite("nist_sp_811", "appendix B.8"), Cite("si_brochure_9", "tables 4 and 8")),
    uses=(AIR, REFERENCE, RATIO),
    judge=judge,
    notes=(
        "gauge_or_absolute",
        "gross_or_net",
        "reference_state",
        "metered_or_corrected",
        "index_in_hundreds",
        "difference_or_scale",
        "nominal_size",
        "area_of_ten",
    ),
)
