"""What each reading says by itself, in steps that the working can show."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.examine import Examined
from calcs.engine.in_force import InForce
from calcs.engine.traced import Traced, named, si
from calcs.engine.traced_functions import apply, of_si, square_root
from calcs.engine.uncertainty import as_difference, standard_uncertainty
from calcs.engine.units import Q, Quantity

DIGITS = 6  # of what a logarithm is in: its last may differ between machines
CORRECTION = "billing.volume_correction"


def said(given: Mapping[str, Any], case: Case, ref: InForce) -> dict[str, Q | None]:
    """Heat input, pressure and carbon dioxide by each way that was read."""
    found: dict[str, Q | None] = {}
    ratio = ref[f"gas.{given['gas']}.gross_to_net"]
    if given["volume"] is not None and given["elapsed"] is not None:
        found["flow_rate"] = (given["volume"] / given["elapsed"]).to("m**3/h")
        gross = found["flow_rate"] * ref[CORRECTION] * given["calorific_value_gross"]
        found["heat_input_rate"] = _wide((gross / ratio).to("kW"), case, "meter", "correction")
    pressures = (given["burner_max"], given["plate_max"])
    if given["burner"] == "injectors" and None not in (*pressures, given["plate_input"]):
        told = case.sheet.value("wobbe_ratio")
        wobbe = _figure(told, "wobbe_ratio", "Wobbe number over that of the test gas")
        root = square_root(pressures[0] / pressures[1])
        burner = (given["plate_input"] * root * wobbe).to("kW")
        found["heat_input_burner"] = _wide(burner, case, "injector", "wobbe")
    found["heat_input_plate"] = given["plate_input"]
    found |= _water(given, case)
    found |= _supply(given, case)
    return found | _flue(given, case)


def _wide(value: Q, case: Case, *errors: str) -> Q:
    """A result with the uncertainty of what it rests on besides its own readings."""
    if isinstance(value, Traced):
        size = abs(si(value))
        parts = [standard_uncertainty(value)]
        parts += [size * case.uncertainties[error] for error in errors]
        whole = math.sqrt(math.fsum(part * part for part in parts))
        value.standard_uncertainty, value.uncertainties = as_difference(whole, value), None
    return value


def _figure(value: float | None, name: str, label: str) -> Q:
    """What the case looked up or worked out, under its own name in the working."""
    return named(of_si(1.0 if value is None else value, ""), name, label, role="figure")


def _water(given: Mapping[str, Any], case: Case) -> dict[str, Q | None]:
    names = ("collected", "water_elapsed", "cold", "hot")
    if any(given[name] is None for name in names):
        return {}
    collected, elapsed, cold, hot = (given[name] for name in names)
    each = of_si(case.sheet.value("water_heat_of_litre") or 0.0, "kJ/(litre*K)")
    each = named(each, "heat_of_a_litre", "Heat of a litre for each kelvin", role="figure")
    heat = (collected / elapsed * each * (hot.to("kelvin") - cold.to("kelvin"))).to("kW")
    efficiency = case.sheet.value("efficiency")
    told = efficiency or case.sheet.value("usual_efficiency")
    needed = (heat / _figure(told, "efficiency", "Net efficiency")).to("kW")
    errors = ("settling",) if efficiency else ("settling", "usual_efficiency")
    return {"water_heat": heat, "heat_input_water": _wide(needed, case, *errors)}


def _supply(given: Mapping[str, Any], case: Case) -> dict[str, Q | None]:
    found: dict[str, Q | None] = {}
    if given["meter_working"] is not None and given["inlet_working"] is not None:
        found["loss_read"] = given["meter_working"] - given["inlet_working"]
        if (lost := case.sheet.value("run_loss")) is not None:
            loss = lost - (case.sheet.value("height_gain") or 0.0)
            flow = given["volume"] / given["elapsed"]
            worked = apply("loss of the run at", lambda _: loss, flow, unit="mbar")
            found["loss_expected"] = _wide(worked, case, "run", "either_law")
    return found


def _flue(given: Mapping[str, Any], case: Case) -> dict[str, Q | None]:
    found: dict[str, Q | None] = {"dioxide_read": given["carbon_dioxide"]}
    slope = case.sheet.derived["dioxide_of_oxygen"]
    oxygen = given["oxygen"]
    if oxygen is not None and slope(si(oxygen)) is not None:

        def dioxide(share: float) -> float:
            return slope(share) or 0.0

        found["dioxide_by_oxygen"] = apply("carbon dioxide at", dioxide, oxygen, unit="percent")
    found["dioxide_plate"] = given["carbon_dioxide_expected"]
    return found


def chance_of(found: Examined) -> dict[str, Q | None]:
    """The statistic of all conditions together; nothing where there is none."""
    if not found.degrees:
        return {}
    return {
        "chi_square": Quantity(_rounded(found.chi_square), ""),
        "conditions": Quantity(float(found.degrees), ""),
        "chance": Quantity(_rounded(100 * found.chance), "percent"),
    }


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")
