"""Answers from general-purpose libraries, for rows that say `library:`.

Each function takes the `given` of a row (texts) and returns expected quantities by output name.
None of them may call `calcs` for a result: only `parse_quantity` and `Quantity`, to carry units.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity, parse_quantity
from tests.tables.library_combustion import *  # noqa: F403
from tests.tables.library_flow import *  # noqa: F403
from tests.tables.library_pipes import *  # noqa: F403
from tests.tables.library_readings import *  # noqa: F403
from tests.tables.library_units import *  # noqa: F403
from tests.tables.library_water import *  # noqa: F403


def orifice_flow_ratio(given: Mapping[str, str]) -> dict[str, Any]:
    """`fluids`: mass flow of a sharp orifice at two pressures; heat input goes with it."""
    from fluids.flow_meter import flow_meter_discharge

    def flow(pressure: str) -> float:
        drop = parse_quantity(pressure).to("Pa").magnitude
        return flow_meter_discharge(
            D=0.02, Do=0.003, P1=101325 + drop, P2=101325, rho=0.68, C=0.62, expansibility=1.0
        )

    ratio = flow(given["left_max"]) / flow(given["plate_max"])
    rated = parse_quantity(given["plate_input"]).to("kW").magnitude
    return {"input_left_max": Quantity(rated * ratio, "kW")}


def normal_conformance(given: Mapping[str, str]) -> dict[str, Any]:
    """SciPy: normal distribution about the reading, JCGM 106."""
    from scipy.stats import norm

    reading = parse_quantity(given["reading"])
    spread = parse_quantity(given["expanded_uncertainty"]).to(reading.units).magnitude / 2

    def below(name: str, otherwise: float) -> float:
        if name not in given:
            return otherwise
        limit = parse_quantity(given[name]).to(reading.units).magnitude
        return float(norm.cdf(limit, loc=reading.magnitude, scale=spread))

    share = below("high_limit", 1.0) - below("low_limit", 0.0)
    return {"conformance_probability": Quantity(100 * share, "percent")}


def buoyancy_of_gas(given: Mapping[str, str]) -> dict[str, Any]:
    """CoolProp: column of air less column of gas at 15 °C; natural gas of relative density 0.6."""
    from CoolProp.CoolProp import PropsSI

    air = PropsSI("D", "T", 288.15, "P", 101325, "Air")
    propane = given.get("gas") == "propane"
    gas = PropsSI("D", "T", 288.15, "P", 101325, "Propane") if propane else 0.6 * air
    rise = parse_quantity(given["height_rise"]).to("m").magnitude
    gain = Quantity((air - gas) * 9.80665 * rise, "Pa").to("mbar")
    loss = parse_quantity(given["meter_working"]) - parse_quantity(given["inlet_working"])
    return {"height_gain": gain, "friction_loss": loss + gain}
