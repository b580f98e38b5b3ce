"""Ventilation for flueless appliances and decorative fires: what the room needs or forbids."""

from __future__ import annotations

from typing import Any

from calcs.domain.air.flueless_findings import judge
from calcs.domain.air.flueless_vents import (
    ALLOWANCES,
    AREAS,
    BASE,
    BED_SITTING,
    CABINET_AREA,
    CABINET_LEAST,
    CABINET_ROOM,
    CANOPY_SHARE,
    FIRE_AIR,
    FIRE_AREA,
    FIRE_CLEARANCE,
    FIRE_INPUT,
    FIRE_LARGEST,
    HEATER_INPUT,
    LOADS,
    SLEEPING,
    TABLES,
    area_by_volume,
    area_of_fire,
    areas_by_load,
    may_need_none,
    no_area,
)
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.units import Q


def ventilation_flueless(
    *,
    kind: str,
    space: str | None = None,
    hood: str | None = None,
    heat_input_net: Q | None = None,
    room_volume: Q | None = None,
    door: str | None = None,
    dwelling: str | None = None,
    clearance: Q | None = None,
    flue_area: Q | None = None,
    area_fitted: Q | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """Free area that a flueless appliance or a decorative fire needs in its room.

    Args:
        kind: "cooker", "space_heater", "cabinet_heater", "water_heater" or "decorative_fire".
        space: "room" or "internal", such as a hall. Space heaters and cabinet heaters.
        hood: "throat" or "canopy". Decorative fires.
        heat_input_net: Heat input, of all but cookers. [kW]
        room_volume: Volume of the room, for all but decorative fires. [m**3]
        door: "yes" where a door leads outdoors. Cookers.
        dwelling: "leaky", "airtight" or "unknown". Decorative fires.
        clearance: Air that the flue was shown to clear. [m**3/h]
        flue_area: Cross-section of the flue under a canopy. [cm**2]
        area_fitted: Free area that is there. [cm**2]
        ref: Uses the tables and figures named above.

    Returns:
        greatest_input: Most heat input that the volume allows. [kW]
        smallest_room: Least volume for the heat input. [m**3]
        counted_input_net: Heat input above the allowance, space heaters. [kW]
        area_needed: Free area of a vent outdoors; None where it is not allowed. [cm**2]
        area_high: Free area high up, cabinet heaters. [cm**2]
        area_low: Free area low down, cabinet heaters. [cm**2]
        spare: Fitted less needed. [cm**2]

    Raises:
        Missing: A canopy without the cross-section of its flue.

    Not covered: several appliances in one room, and open-flued appliances beside these.

    >>> from calcs.engine.units import Quantity, parse_quantity
    >>> names = (LOADS["space_heater", "room"], BASE, AREAS["room"], ALLOWANCES["room"])
    >>> figures = map(parse_quantity, ("45 W/m³", "100 cm²", "55 cm²/kW", "2.7 kW"))
    >>> heater = ventilation_flueless(
    ...     kind="space_heater",
    ...     space="room",
    ...     heat_input_net=Quantity(3.7, "kW"),
    ...     room_volume=Quantity(100, "m**3"),
    ...     ref=dict(
    ...         zip(names, map(parse_quantity, ("45 W/m³", "100 cm²", "55 cm²/kW", "2.7 kW")))
    ...     ),
    ... )
    >>> heater["greatest_input"].magnitude, heater["area_needed"].magnitude
    (4.5, 155.0)
    """
    found: dict[str, Q | None]
    if kind in TABLES:
        found = {"area_needed": area_by_volume(kind, room_volume, door, ref)}
    elif kind == "decorative_fire":
        needs_none = may_need_none(heat_input_net, clearance, dwelling, ref)
        found = {"area_needed": no_area() if needs_none else area_of_fire(hood, flue_area, ref)}
    else:
        found = areas_by_load((kind, space or ""), heat_input_net, room_volume, ref)
    needed = found.get("area_needed")
    if needed is not None and area_fitted is not None:
        found["spare"] = area_fitted - needed
    return found


def _of(*kinds: str) -> When:
    return When("kind", kinds)


COOKER, FIRE = _of("cooker"), _of("decorative_fire")
HEATERS, CABINET = _of("space_heater", "cabinet_heater"), _of("cabinet_heater")
WITH_INPUT = _of("space_heater", "cabinet_heater", "water_heater", "decorative_fire")
WITH_VOLUME = _of("cooker", "space_heater", "cabinet_heater", "water_heater")
ONE_VENT = _of("cooker", "space_heater", "water_heater", "decorative_fire")
KINDS = ("cooker", "space_heater", "cabinet_heater", "water_heater", "decorative_fire")


def _area(name: str, when: When) -> Input:
    return Input(name, "cm**2", 0, 10000, ("mm**2",), optional=True, when=when, read_with="rule")


CALCULATOR = Calculator(
    formula=ventilation_flueless,
    inputs=(
        Choice("kind", KINDS),
        Choice("space", ("room", "internal"), default="room", when=HEATERS),
        Choice("hood", ("throat", "canopy"), default="throat", when=FIRE),
        Input("heat_input_net", "kW", 0.1, 70, ("Btu/h",), when=WITH_INPUT, uncertainty=STATED),
        Input("room_volume", "m**3", 0.5, 2000, ("ft**3",), when=WITH_VOLUME, uncertainty=WRITTEN),
        Choice("room_use", ("living", "sleeping", "bathroom")),
        Choice("door", ("no", "yes"), default="no", when=COOKER),
        Choice("window", ("yes", "no"), when=_of("cooker", "space_heater")),
        Choice("dwelling", ("unknown", "airtight", "leaky"), default="unknown", when=FIRE),
        Input(
            "clearance",
            "m**3/h",
            0,
            1000,
            ("ft**3/h",),
            optional=True,
            when=FIRE,
            uncertainty=WRITTEN,
        ),
        Input(
            "flue_area",
            "cm**2",
            75,  # a round flue of 100 mm, the least in the tables of flues held, has 78.5 cm²
            10000,
            ("mm**2",),
            optional=True,
            when=FIRE,
            uncertainty=WRITTEN,
        ),
        _area("area_fitted", ONE_VENT),
        _area("fitted_high", CABINET),
        _area("fitted_low", CABINET),
        Instrument("rule", "area", "cm**2", "vent_by_measure", 1000, ("mm**2", "percent")),
    ),
    outputs=(
        Output("greatest_input", "kW", places=2),
        Output("smallest_room", "m**3", places=1),
        Output("area_needed", "cm**2", places=1),
        Output("area_high", "cm**2", places=1),
        Output("area_low", "cm**2", places=1),
        Output("spare", "cm**2", places=1),
    ),
    sources=(
        Cite("bs_5440_2", "flueless appliances"),
        Cite("approved_document_j", "3.11 and 3.12"),
        Cite("gas_safety_regulations_1998", "regulation 30"),
    ),
    uses=(
        *TABLES.values(),
        *LOADS.values(),
        *AREAS.values(),
        *ALLOWANCES.values(),
        *(BASE, CABINET_AREA, CABINET_LEAST, CABINET_ROOM, HEATER_INPUT, FIRE_AREA, CANOPY_SHARE),
        *(FIRE_LARGEST, FIRE_INPUT, FIRE_CLEARANCE, FIRE_AIR, SLEEPING, BED_SITTING),
    ),
    judge=judge,
    verdicts=("area", "area_high", "area_low", "input", "volume", "room", "window"),
    notes=(
        "sleeping_needs_sensing",
        "window_not_known",
        "may_be_cubic_feet",
        "square_millimetres",
    ),
    rests_on=dict.fromkeys(
        ("area", "area_high", "area_low"), ("room", "window", "volume", "input")
    ),
    refusals=("less_than_it_burns",),
    rulings=(
        *("none_needed", "may_need_none", "not_measured", "square_millimetres", "room_too_small"),
        *("not_in_bathrooms", "window_opens", "no_window"),
    ),
)
