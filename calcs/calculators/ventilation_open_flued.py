"""Ventilation for open-flued appliances: the free area that a room needs."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import add
from typing import Any

from calcs.domain.plausibility.mm2_for_cm2 import is_slip, millimetres_note
from calcs.engine.declarations import (
    COUNTED,
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    Rows,
)
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.traced_functions import largest
from calcs.engine.units import Q, Quantity

AREA, SERIES = "ventilation.open_flued_area", "ventilation.series_increase"
ALLOWANCES = {
    "ordinary": "ventilation.open_flued_allowance",
    "airtight": "ventilation.allowance_airtight",
    "northern_ireland": "ventilation.allowance_northern_ireland",
}
SLEEPING = "ventilation.sleeping_room_input"


def ventilation_open_flued(
    *,
    appliances: tuple[Mapping[str, Q], ...],
    building: str,
    vents_in_series: Q,
    area_fitted: Q | None = None,
    ref: Mapping[str, Q],
) -> dict[str, Q | None]:
    """Free area of permanent vents for the open-flued appliances in one room.

    Args:
        appliances: `heat_input_net` of each. [kW]
        building: "ordinary", "airtight" or "northern_ireland".
        vents_in_series: Vents that the air passes one after another, counted.
        area_fitted: Free area of the vents that are there. [cm**2]
        ref: Uses the figures `ventilation.*` named above.

    Returns:
        total_input_net: Heat input of all of them. [kW]
        counted_input_net: What is left after the one allowance. [kW]
        area_needed: Free area that one vent to outside needs. [cm**2]
        area_each: Free area of each vent where several stand in series. [cm**2]

    Not covered: flueless appliances and decorative fires in the same room, and extract fans.

    >>> ref = {
    ...     AREA: Quantity(5.0, "cm**2/kW"),
    ...     ALLOWANCES["ordinary"]: Quantity(7, "kW"),
    ...     SERIES: Quantity(50, "percent"),
    ... }
    >>> need = ventilation_open_flued(
    ...     appliances=({"heat_input_net": Quantity(17, "kW")},),
    ...     building="ordinary",
    ...     vents_in_series=Quantity(1, ""),
    ...     ref=ref,
    ... )
    >>> need["area_needed"].magnitude
    50.0
    """
    total_input_net = reduce(add, (appliance["heat_input_net"] for appliance in appliances))
    beyond_allowance = total_input_net - ref[ALLOWANCES[building]]
    counted_input_net = largest(beyond_allowance, Quantity(0.0, "kW"))
    area_needed = (ref[AREA] * counted_input_net).to("cm**2")
    area_each = None
    if vents_in_series.magnitude > 1:
        area_each = area_needed * (1 + ref[SERIES])
    return {
        "total_input_net": total_input_net,
        "counted_input_net": counted_input_net,
        "area_needed": area_needed,
        "area_each": area_each,
        "spare": None if area_fitted is None else area_fitted - (area_each or area_needed),
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The vents that are there, and whether anyone sleeps in the room."""
    findings: list[Finding] = []
    allowance = ALLOWANCES[given["building"]]
    need = answers.get("area_each") or answers["area_needed"]
    fitted, figures = given["area_fitted"], (AREA, allowance)
    # A small need for all that the allowance leaves is no measure of a vent too large to be true.
    without_allowance = ref[AREA] * answers["total_input_net"]
    if is_slip(fitted, without_allowance):
        findings.append(Ruling("area", "not_judged", "square_millimetres", figures))
    elif fitted is not None and need.magnitude == 0:
        findings.append(Ruling("area", "meets", "none_needed", figures))
    elif fitted is not None:
        findings.append(Compare("area", fitted, low=need, figures=figures, unit="cm**2"))
    if given["room_use"] == "sleeping":
        greatest = max(appliance["heat_input_net"] for appliance in given["appliances"])
        findings.append(Compare("sleeping", greatest, high=ref[SLEEPING], figures=(SLEEPING,)))
        findings.append(Note("sleeping_needs_sensing"))
    if given["room_use"] == "bathroom":
        findings.append(Ruling("room", "does_not_meet", "not_in_bathrooms", (SLEEPING,)))
    return [*findings, *millimetres_note([(fitted, without_allowance)])]


CALCULATOR = Calculator(
    formula=ventilation_open_flued,
    inputs=(
        Rows(
            "appliances",
            (Input("heat_input_net", "kW", 0.1, 70, ("Btu/h",), uncertainty=STATED),),
            high=10,
        ),
        Choice("building", tuple(ALLOWANCES)),
        Choice("room_use", ("living", "sleeping", "bathroom")),
        Input("vents_in_series", "", 1, 5, default="ventilation.one_vent", uncertainty=COUNTED),
        Input(
            "area_fitted",
            "cm**2",
            low=0,
            high=10000,
            also=("mm**2",),
            optional=True,
            read_with="rule",
        ),
        Instrument("rule", "area", "cm**2", "vent_by_measure", 1000, ("mm**2", "percent")),
    ),
    outputs=(
        Output("total_input_net", "kW", places=1),
        Output("area_needed", "cm**2", places=1),
        Output("area_each", "cm**2", places=1),
        Output("spare", "cm**2", places=1),
    ),
    sources=(Cite("bs_5440_2", "open-flued appliances in a room"),),
    uses=(AREA, SERIES, SLEEPING, *ALLOWANCES.values()),
    judge=judge,
    verdicts=("area", "sleeping", "room"),
    rests_on={"area": ("room", "sleeping")},
    notes=("sleeping_needs_sensing", "square_millimetres"),
    rulings=("not_in_bathrooms", "none_needed", "square_millimetres"),
)
