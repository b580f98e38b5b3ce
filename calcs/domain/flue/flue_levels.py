"""The levels that a sample of flue gas is held to, and which of the reader's own make no sense."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from calcs.engine.declarations import STATED, Input
from calcs.engine.errors import Impossible
from calcs.engine.in_force import InForce
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

KIND = {
    "condensing_boiler": "condensing",
    "boiler": "non_condensing",
    # The source of the boilers' ratio names boilers and combination boilers alone.
    **dict.fromkeys(("water_heater", "gas_fire", "cooker", "other"), ""),
}
TYPE_TESTED = ("gas_fire", "cooker")
MONOXIDE = "combustion.carbon_monoxide_high.condensing"
INVESTIGATE = "combustion.ratio_investigate.non_condensing"
BOILERS = "combustion.ratio_high.non_condensing"
SERVICE = "combustion.ratio_service.non_condensing"
TYPE_TEST = "combustion.ratio_type_test"
RATIO_INSTRUCTIONS = "combustion.ratio_instructions"
MONOXIDE_INSTRUCTIONS = "combustion.carbon_monoxide_instructions"
DIOXIDE_INSTRUCTIONS = "combustion.carbon_dioxide_instructions"
RICHEST = "combustion.carbon_dioxide_max.butane"
CRITICAL = "combustion.ratio_critical"
LEANEST = "combustion.premix_carbon_dioxide_least"
ROOM_STOP = "carbon_monoxide.room_stop"
# What the instructions say goes before any level of the handbook.
LEVEL_INPUTS = (
    Input("ratio_limit", "", low=0.0001, high=0.1, optional=True, uncertainty=STATED),
    Input("carbon_monoxide_limit", "ppm", low=1, high=40000, optional=True, uncertainty=STATED),
)
LEVELS = (
    ROOM_STOP,
    CRITICAL,
    LEANEST,
    "combustion.ratio_high.*",
    MONOXIDE,
    INVESTIGATE,
    SERVICE,
    TYPE_TEST,
    RATIO_INSTRUCTIONS,
    MONOXIDE_INSTRUCTIONS,
    DIOXIDE_INSTRUCTIONS,
)


class Level(NamedTuple):
    """A level that a sample is held to: the name of its verdict, the most, and where it is from."""

    name: str
    high: Q | None
    figures: tuple[str, ...]

    @property
    def is_ratio(self) -> bool:
        """Whether it is a ratio; else it is carbon monoxide alone."""
        return not self.name.startswith("carbon_monoxide")


def levels_of(given: Mapping[str, Any], ref: InForce) -> list[Level]:
    """Instructions before action levels; a ratio with no level is there with None.

    Raises:
        Impossible: A level of the reader's own would pass what nothing is allowed.
    """
    _check_own(given, ref)
    kind = KIND[given["appliance"]]
    high, name = given["ratio_limit"], RATIO_INSTRUCTIONS
    if high is None and kind:
        name = f"combustion.ratio_high.{kind}"
        high = ref[name]
    levels = [Level("ratio", high, (name,))]
    if kind == "non_condensing":
        levels.append(Level("ratio_investigate", ref[INVESTIGATE], (INVESTIGATE, SERVICE)))
    if given["appliance"] in TYPE_TESTED:
        levels.append(Level("type_test", ref[TYPE_TEST], (TYPE_TEST,)))
    if given["carbon_monoxide_limit"] is not None:
        limit = given["carbon_monoxide_limit"]
        levels.append(Level("carbon_monoxide", limit, (MONOXIDE_INSTRUCTIONS,)))
    elif kind == "condensing":
        levels.append(Level("carbon_monoxide", ref[MONOXIDE], (MONOXIDE,)))
    return levels


def _check_own(given: Mapping[str, Any], ref: InForce) -> None:
    """Refuse a typed level beyond what any gas appliance of its kind is left with or tested to.

    Gas fires and cookers were allowed the highest ratio of all. A boiler, of either kind, is not
    left above the boilers' action level. Carbon monoxide is held to the same with the most carbon
    dioxide that the flue gas of natural gas, propane or butane has.

    Raises:
        Impossible: The level is above it.
    """
    is_boiler = bool(KIND[given["appliance"]])
    ratio = ref[BOILERS] if is_boiler else ref[TYPE_TEST]
    for field, most in (("ratio_limit", ratio), ("carbon_monoxide_limit", ratio * ref[RICHEST])):
        typed: Q | None = given[field]
        if typed is None or si(typed) <= si(most) * (1 + 1e-9):
            continue
        unit = typed.units
        shown = join_unit(short_number(float(most.to(unit).magnitude), 3), unit)
        if is_boiler:
            raise Impossible(field, "level_above_boilers", most=shown)
        raise Impossible(field, "level_above_type_test", most=shown)
