"""Answers from general-purpose libraries for gas in an injector and burnt gas in a flue."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity, parse_quantity

__all__ = ["height_with_the_same_flow", "orifice_discharge"]


# Resistances as makers print them from BS 5440-1: of a metre, or of one piece.
RESISTANCES = {
    "pipe": {"100": 0.78, "125": 0.25, "150": 0.12},
    "block": {"197_67": 0.85},
    "bend_90": {"100": 1.22, "125": 0.50},
    "bend_45": {"100": 0.61, "125": 0.25},
    "ridge_terminal": {"100": 2.5, "125": 1.0},
    "gc1_terminal": {"100": 0.6, "125": 0.25},
    "raking_block": {"": 0.30},
    "adaptor_block": {"": 0.50},
}


END = {"100": 2.5, "125": 1.0, "150": 0.48}


def height_with_the_same_flow(given: Mapping[str, Any]) -> dict[str, Any]:
    """SciPy: the height of straight pipe through which the same pull drives the same flow.

    Flow squared goes with height over resistance, for the flue and for the pipe alike.
    """
    from scipy.optimize import brentq

    def bore(name: str) -> str:
        return str(given.get(name, given["equivalent_size"])).partition("_")[2]

    flue = END[bore("inlet_size")] + END[bore("outlet_size")]
    for part in given["parts"]:
        figure = RESISTANCES[part["component"]][part.get("size", "").partition("_")[2]]
        amount = parse_quantity(part.get("length") or part.get("count") or "1").magnitude
        flue += figure * amount
    height = parse_quantity(given["height"]).to("m").magnitude
    size = bore("equivalent_size")

    def missed(tall: float) -> float:
        return tall / (2 * END[size] + RESISTANCES["pipe"][size] * tall) - height / flue

    return {"equivalent_height": Quantity(brentq(missed, 1e-6, 1000, xtol=1e-12), "m")}


# Gross calorific value and relative density of test gases, and gross over net: figures of data/.
TEST_GAS = {"G20": (37.78, 0.555, 1.111), "G31": (95.66, 1.550, 1.087)}


def orifice_discharge(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: mass flow of an orifice in a pipe so wide that the approach does not count."""
    import math

    from fluids.flow_meter import flow_meter_discharge

    heat, weight, gross_to_net = TEST_GAS[given["gas"]]
    density = weight * 1.2254
    mass = flow_meter_discharge(
        D=1.0,
        Do=parse_quantity(given["diameter"]).to("m").magnitude
        * math.sqrt(float(given.get("injectors", "1"))),
        P1=101325 + parse_quantity(given["pressure"]).to("Pa").magnitude,
        P2=101325,
        rho=density,
        C=float(given["discharge_coefficient"]),
        expansibility=1.0,
    )
    flow = Quantity(mass / density, "m**3/s")
    gross = flow * Quantity(heat, "MJ/m**3")
    return {
        "flow_rate": flow.to("m**3/h"),
        "heat_input_gross": gross.to("kW"),
        "heat_input_net": (gross / gross_to_net).to("kW"),
    }
