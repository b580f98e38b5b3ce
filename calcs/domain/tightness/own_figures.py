"""Figures of the reader's own in place of records: tighter is theirs to choose, looser is not."""

from __future__ import annotations

from typing import Any

from calcs.engine.errors import NotASensibleFigure
from calcs.engine.traced import si
from calcs.engine.units import join_unit, parse_quantity, short_number

# What a pass rests on, by the beginning of its name: the greatest or the least that is permitted.
GREATEST = (
    "tightness.scope_",
    "tightness.let_by_high",
    "tightness.test_pressure_high.",
    "tightness.lpg_air_pressure_high",
    "combustion.carbon_monoxide_high.",
    "combustion.ratio_high.",
    "combustion.ratio_investigate.",
    "combustion.ratio_critical",
    "combustion.ratio_type_test",
    "carbon_monoxide.room_stop",
    "flue_integrity.carbon_dioxide_high",
    "working_pressure.lock_up_high",
    "ventilation.sleeping_room_input",
)
LEAST = (
    "tightness.let_by_low",
    "tightness.test_pressure_low.",
    "tightness.test_pressure_least.",
    "tightness.test_pressure.",
    "tightness.lpg_air_pressure_low",
    "industrial.test_factor.",
    "industrial.air_test_factor.",
    "industrial.test_period_least",
    "flue_integrity.oxygen_low",
)
# The industrial figures are held from memory: a copy may well give less, and not half as little.
FROM_MEMORY = 0.5


def check_none_is_looser(ref: Any) -> None:
    """Refuse a figure that permits more than any edition held here.

    Raises:
        NotASensibleFigure: One does. Its field is the name of the record.
    """
    for name, text in ref.using.items():
        if name.startswith((*GREATEST, *LEAST)):
            held = [
                parse_quantity(entry.value)
                for entry in ref.reference.history(name)
                if entry.value is not None
            ]
            if held:
                _check(name, text, held)


def _check(name: str, text: str, held: list[Any]) -> None:
    is_least = name.startswith(LEAST)
    bound = min(held, key=si) if is_least else max(held, key=si)
    share = FROM_MEMORY if name.startswith("industrial.") else 1.0
    own, limit = si(parse_quantity(text)), si(bound)
    if own < share * limit * (1 - 1e-9) if is_least else own > limit * (1 + 1e-9):
        shown = join_unit(short_number(float(bound.magnitude)), bound.units)
        raise NotASensibleFigure(
            name, reason=f"{{this}} is {shown} here, and nothing is passed by a looser figure."
        )
