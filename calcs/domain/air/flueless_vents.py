"""Rules for the free area of flueless appliances and decorative fires, kind by kind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.errors import Impossible, Missing
from calcs.engine.traced import named, si
from calcs.engine.traced_functions import largest
from calcs.engine.units import Q, Quantity, at_most, parse_quantity

TABLES = {"cooker": "cooker_vents", "water_heater": "water_heater_vents"}
LOADS = {
    ("space_heater", "room"): "ventilation.flueless_heater_load",
    ("space_heater", "internal"): "ventilation.flueless_heater_load_internal",
    ("cabinet_heater", "room"): "ventilation.cabinet_load",
    ("cabinet_heater", "internal"): "ventilation.cabinet_load_internal",
}
BASE = "ventilation.flueless_heater_base"
AREAS = {
    "room": "ventilation.flueless_heater_area",
    "internal": "ventilation.flueless_heater_area_internal",
}
ALLOWANCES = {
    "room": "ventilation.flueless_heater_allowance",
    "internal": "ventilation.flueless_heater_allowance_internal",
}
CABINET_AREA, CABINET_LEAST = "ventilation.cabinet_area", "ventilation.cabinet_area_low"
CABINET_ROOM = "ventilation.cabinet_room"
HEATER_INPUT = "ventilation.water_heater_input"
FIRE_AREA, CANOPY_SHARE = "ventilation.decorative_area", "ventilation.decorative_canopy_share"
FIRE_LARGEST = "ventilation.decorative_input"
FIRE_INPUT = "ventilation.decorative_no_vent_input"
FIRE_CLEARANCE = "ventilation.decorative_no_vent_clearance"
FIRE_AIR = "ventilation.decorative_no_vent_permeability"
# Air that a gas burns and no more, in m³ for each J net. CH₄ + 2 O₂: with 20.95 % of oxygen in the
# air, 2 ÷ 0.2095 = 9.55 m³ for a cubic metre of methane, of 34.0 MJ net (G20, EN 437). Butane takes
# a twentieth less for its heat, by the same sum. All of it has to go up the flue of a fire.
AIR_BURNT = 9.55 / 34.0e6 * 0.95
SLEEPING, BED_SITTING = "ventilation.sleeping_room_input", "ventilation.bed_sitting_room_volume"


def no_area() -> Q:
    """No vent at all."""
    return named(Quantity(0.0, "cm**2"), "no_area", "no vent", role="figure")


def find_row(ref: Any, table: str, room_volume: Q) -> Mapping[str, str]:
    """The row of the table whose band of volumes holds the room.

    The first band is for rooms under its end. The others hold their own end.
    """
    first, *others = ref.rows(table)
    if not at_most(parse_quantity(first["room_to"]), room_volume):
        return dict(first)
    ends = ((row, row["room_to"]) for row in others)
    return next(row for row, end in ends if not end or at_most(room_volume, parse_quantity(end)))


def area_by_volume(kind: str, room_volume: Q, door: str | None, ref: Any) -> Q | None:
    """Free area that the table gives a cooker or a water heater; None where it is not allowed."""
    row = find_row(ref, TABLES[kind], room_volume)
    cell = row["area_with_door" if door == "yes" else "area"]
    return ref.cell(TABLES[kind], cell, "Area in the table") if cell else None


def areas_by_load(
    where: tuple[str, str], heat_input_net: Q, room_volume: Q, ref: Any
) -> dict[str, Any]:
    """Load of the room and free areas of a space heater or a cabinet heater.

    Args:
        where: Kind of appliance and of space, as in `LOADS`.
        heat_input_net: Heat input. [kW]
        room_volume: Volume of the room. [m**3]
        ref: Figures in force.
    """
    load = ref[LOADS[where]]
    found = {
        "greatest_input": (load * room_volume).to("kW"),
        "smallest_room": (heat_input_net / load).to("m**3"),
    }
    kind, space = where
    if kind == "cabinet_heater":
        each = largest((ref[CABINET_AREA] * heat_input_net).to("cm**2"), ref[CABINET_LEAST])
        return {**found, "area_high": each, "area_low": each}
    beyond = largest(heat_input_net - ref[ALLOWANCES[space]], Quantity(0.0, "kW"))
    area_needed = (ref[BASE] + ref[AREAS[space]] * beyond).to("cm**2")
    return {**found, "counted_input_net": beyond, "area_needed": area_needed}


def area_of_fire(hood: str | None, flue_area: Q | None, ref: Any) -> Q:
    """Free area of a decorative fire; under a canopy it is a share of the flue."""
    if hood == "canopy":
        if flue_area is None:
            raise Missing("flue_area")
        return (ref[CANOPY_SHARE] * flue_area).to("cm**2")
    return ref[FIRE_AREA]


def may_need_none(heat_input_net: Q, clearance: Q | None, dwelling: str | None, ref: Any) -> bool:
    """Whether a decorative fire keeps all three conditions under which it may do without a vent.

    Raises:
        Impossible: The flue would clear less than the fire burns.
    """
    if clearance is not None and si(clearance) < AIR_BURNT * si(heat_input_net):
        raise Impossible("clearance", "less_than_it_burns")
    return (
        dwelling == "leaky"
        and clearance is not None
        and at_most(heat_input_net, ref[FIRE_INPUT])
        and at_most(clearance, ref[FIRE_CLEARANCE])
    )
