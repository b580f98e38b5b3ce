"""Slips of the pen in a gas rate: the wrong cubic unit, the decimal point, net for gross."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.calorific_value import HIGHEST, LOWEST
from calcs.domain.plausibility.ratio import is_near
from calcs.engine.findings import Note
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.units import Q, Quantity, join_unit

BADGE = "tightness.scope_meter_badge"
ODD_VALUE = "odd_calorific_value"
SLIPS = (
    "cubic_feet",
    "cubic_metres",
    "decimal_point",
    "above_any_meter",
    ODD_VALUE,
    "trade_figure",
)
SLIP_USES = (LOWEST, HIGHEST, BADGE)
FEET = float(Quantity(1.0, "m**3").to("ft**3").magnitude)
PLACES = (10, 100, 1000)


def slips(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Mapping[str, Q]) -> list[Note]:
    """Notes on what the readings would be right for.

    Args:
        given: Inputs, read.
        answers: Flow, heat input and, with a data plate, their share of it.
        ref: Uses the range of the network's calorific value and the badge of the largest meter.
    """
    findings: list[Note] = []
    if "share_of_plate" in answers:
        findings += _of_volume(si(answers["share_of_plate"]))
    elif "flow_rate" in answers and answers["flow_rate"] > ref[BADGE]:
        findings.append(Note("above_any_meter", {"badge": _shown(ref[BADGE], 0)}))
    if given["gas"] == "natural_gas":
        findings += _of_calorific_value(given["calorific_value_gross"], answers, ref)
    return findings


def _of_calorific_value(taken: Q, answers: Mapping[str, Q], ref: Mapping[str, Q]) -> list[Note]:
    """What the network's range says of the figure typed, or of the fixed one that was taken."""
    low, high = ref[LOWEST], ref[HIGHEST]
    values = {"low": _shown(low, 1), "high": _shown(high, 0)}
    if not low <= taken <= high:
        return [Note(ODD_VALUE, values)]
    if taken.role == "input" or "heat_input_net" not in answers:
        return []
    heats = (answers["heat_input_net"] * (end / taken) for end in (low, high))
    least, most = (_shown(heat.to("kW"), 1) for heat in heats)
    return [Note("trade_figure", {**values, "least": least, "most": most})]


def _of_volume(ratio: float) -> list[Note]:
    """What the volume was meant to be, where the plate's input would follow from that."""
    if is_near(ratio):
        return []
    for name, factor in (("cubic_feet", FEET), ("cubic_metres", 1 / FEET)):
        if is_near(ratio / factor):
            return [Note(name)]
    for factor in PLACES:
        if is_near(ratio / factor) or is_near(ratio * factor):
            return [Note("decimal_point")]
    return []


def _shown(value: Q, places: int) -> str:
    return join_unit(round_half_up(float(value.magnitude), places), value.units)
