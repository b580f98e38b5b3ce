"""Water by IAPWS-IF97 (`iapws`): what the water calculators are compared with."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity, parse_quantity

__all__ = [
    "heating_flow_by_iapws",
    "heating_output_by_iapws",
    "hot_water_by_iapws",
    "water_expansion_by_iapws",
]


def _kelvin(text: str) -> float:
    return float(parse_quantity(text).to("kelvin").magnitude)


def hot_water_by_iapws(given: Mapping[str, str]) -> dict[str, Any]:
    """Mass at the outlet temperature times the enthalpy gained between the two temperatures."""
    from iapws import IAPWS97

    cold, hot = (IAPWS97(T=_kelvin(given[name]), P=0.3) for name in ("cold", "hot"))
    flow = parse_quantity(given["flow"]).to("m**3/s").magnitude
    return {"heat_output_by_density": Quantity(flow * hot.rho * (hot.h - cold.h), "kW")}


def heating_flow_by_iapws(given: Mapping[str, str]) -> dict[str, Any]:
    """Heat over the enthalpy between flow and return, as a volume at the return's density."""
    hot, cool = _circuit(given)
    heat = parse_quantity(given["heat_output"]).to("kW").magnitude
    return {"circuit_flow": Quantity(heat / (hot.h - cool.h) / cool.rho, "m**3/s").to("l/min")}


def heating_output_by_iapws(given: Mapping[str, str]) -> dict[str, Any]:
    """The same the other way."""
    hot, cool = _circuit(given)
    flow = parse_quantity(given["water_flow"]).to("m**3/s").magnitude
    return {"circuit_output": Quantity(flow * cool.rho * (hot.h - cool.h), "kW")}


def _circuit(given: Mapping[str, str]) -> tuple[Any, Any]:
    from iapws import IAPWS97

    flow, back = (_kelvin(given[f"{name}_temperature"]) for name in ("flow", "return"))
    return IAPWS97(T=flow, P=0.3), IAPWS97(T=back, P=0.3)


def water_expansion_by_iapws(given: Mapping[str, str]) -> dict[str, Any]:
    """Growth of water at 3 bar absolute between the two temperatures."""
    from iapws import IAPWS97

    cold, hot = (
        IAPWS97(T=_kelvin(given[f"{name}_temperature"]), P=0.3) for name in ("fill", "greatest")
    )
    return {"expansion": Quantity(100 * (cold.rho / hot.rho - 1), "percent")}
