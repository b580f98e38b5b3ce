"""Water by IAPWS-IF97 (`iapws`): what the water calculators are compared with."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.units import Quantity, parse_quantity

__all__ = ["hot_water_by_iapws"]


def _kelvin(text: str) -> float:
    return float(parse_quantity(text).to("kelvin").magnitude)


def hot_water_by_iapws(given: Mapping[str, str]) -> dict[str, Any]:
    """Mass at the outlet temperature times the enthalpy gained between the two temperatures."""
    from iapws import IAPWS97

    cold, hot = (IAPWS97(T=_kelvin(given[name]), P=0.3) for name in ("cold", "hot"))
    flow = parse_quantity(given["flow"]).to("m**3/s").magnitude
    return {"heat_output_by_density": Quantity(flow * hot.rho * (hot.h - cold.h), "kW")}
