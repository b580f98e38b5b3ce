"""Units by SciPy's constants: what the unit converter is compared with."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity

__all__ = ["temperature_by_scipy", "units_by_scipy"]


def _factors() -> dict[str, dict[str, tuple[str, float]]]:
    """By kind: the text of a unit, the output that is in it, and its size in SI by SciPy."""
    from scipy import constants as c

    water, hour, foot3 = 1000 * c.g, c.hour, c.foot**3
    return {
        "pressure": {
            "mbar": ("millibar", c.bar / 1000),
            "Pa": ("pascal", 1.0),
            "kPa": ("kilopascal", c.kilo),
            "bar": ("bar", c.bar),
            "inWG": ("inch_water_gauge", c.inch * water),
            "mmWG": ("millimetre_water_gauge", c.milli * water),
            "psi": ("pound_square_inch", c.psi),
        },
        "heat_input": {
            "kW": ("kilowatt", c.kilo),
            "W": ("watt", 1.0),
            "Btu/h": ("british_thermal_unit", c.Btu_IT / hour),
            "MJ/h": ("megajoule", c.mega / hour),
        },
        "energy": {
            "kWh": ("kilowatt_hour", c.kilo * hour),
            "MJ": ("megajoule", c.mega),
            "Btu": ("british_thermal_unit", c.Btu_IT),
            "therm": ("therm", 1e5 * c.Btu_IT),
        },
        "calorific_value": {
            "MJ/m**3": ("megajoule", c.mega),
            "kWh/m**3": ("kilowatt_hour", c.kilo * hour),
            "Btu/ft**3": ("british_thermal_unit", c.Btu_IT / foot3),
        },
        "volume": {
            "m**3": ("cubic_metre", 1.0),
            "litre": ("litre", c.liter),
            "ft**3": ("cubic_foot", foot3),
            "imperial_gallon": ("gallon", c.gallon_imp),
        },
        "flow": {
            "m**3/h": ("cubic_metre", 1 / hour),
            "litre/min": ("litre", c.liter / c.minute),
            "litre/s": ("litre_second", c.liter),
            "ft**3/h": ("cubic_foot", foot3 / hour),
            "imperial_gallon/min": ("gallon", c.gallon_imp / c.minute),
        },
        "length": {
            "mm": ("millimetre", c.milli),
            "m": ("metre", 1.0),
            "inch": ("inch", c.inch),
            "ft": ("foot", c.foot),
        },
        "area": {
            "cm**2": ("square_centimetre", c.centi**2),
            "mm**2": ("square_millimetre", c.milli**2),
            "m**2": ("square_metre", 1.0),
            "inch**2": ("square_inch", c.inch**2),
            "ft**2": ("square_foot", c.foot**2),
        },
    }


def units_by_scipy(given: Mapping[str, str]) -> dict[str, Any]:
    """The figure in SI by SciPy's size of its unit, then over the size of each other unit."""
    kind = given["kind"]
    number, _, unit = given[kind].partition(" ")
    known = _factors()[kind]
    in_si = float(number) * known[unit][1]
    return {
        f"{kind}_{name}": Quantity(in_si / size, spelled) for spelled, (name, size) in known.items()
    }


def temperature_by_scipy(given: Mapping[str, str]) -> dict[str, Any]:
    """SciPy's conversion between the three scales."""
    from scipy.constants import convert_temperature

    number, _, unit = given["temperature"].partition(" ")
    scales = {"degC": "Celsius", "degF": "Fahrenheit", "kelvin": "Kelvin"}
    return {
        f"temperature_{scale.lower()}": Quantity(
            float(convert_temperature(float(number), scales[unit], scale)), spelled
        )
        for spelled, scale in scales.items()
    }
