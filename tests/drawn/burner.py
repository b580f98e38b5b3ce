"""Burner pressure of an appliance with fixed injectors, as found and as left."""

from __future__ import annotations

import math

from tests.drawn.visit import HEAT_INPUT, NET_TO_GROSS, OUTSIDE, WITHIN, Drawn, number

CHECKS = {
    "burner_pressure.look_first": "burner_pressure.looked_at",
    "burner_pressure.refit_cover": "reseal.covers",
    "burner_pressure.leak_test_inlet": "burner_pressure.inlet_tight",
    "burner_pressure.leak_test_burner": "burner_pressure.burner_tight",
    "burner_pressure.seal_adjusters": "reseal.adjusters",
}
AT_EACH_END = {
    "max": ("found_maximum", "recheck_maximum", "cover_on_maximum"),
    "min": ("found_minimum", "recheck_minimum", "cover_on_minimum"),
}


def burner(visit: Drawn, net: float, inlet: float, *, ends: tuple[str, ...]) -> None:
    """Set to its plate: what was found may be off it, what was left is not."""
    visit.looked_at(CHECKS)
    _inlet(visit, inlet)
    plates = {"max": visit.between(10, 14), "min": visit.between(1.8, 2.8)}
    offs = {"max": visit.draw.choice([-2.3, 0.1, 1.4]), "min": visit.draw.choice([-0.8, 0.1, 0.9])}
    tolerance = number(visit, "instructions.burner_pressure_tolerance")
    for end in ends:
        found_in, *left_in = AT_EACH_END[end]
        plate = visit.read(f"plate.burner_pressure_{end}", plates[end], "mbar")
        found = visit.read(f"burner_pressure.found_{end}", plate + offs[end], "mbar")
        side = "low" if found < plate else "high"
        is_off = abs(offs[end]) > tolerance
        said = f"{side} by {abs(found - plate):.1f} mbar" if is_off else ""
        visit.says(f"burner_pressure.{found_in}", OUTSIDE if said else WITHIN, said)
        for when, step in zip(("left", "cover_on"), left_in, strict=True):
            visit.read(f"burner_pressure.{when}_{end}", plate, "mbar")
            visit.says(f"burner_pressure.{step}", WITHIN)
    found, plate = number(visit, "burner_pressure.found_max"), plates["max"]
    _runs(visit, net, math.sqrt(found / plate))


def _inlet(visit: Drawn, inlet: float) -> None:
    standing = number(visit, "working_pressure.inlet_standing")
    visit.read("burner_pressure.inlet_standing", standing, "mbar")
    visit.says("burner_pressure.inlet_standing", WITHIN)
    lowest = number(visit, "instructions.inlet_working_low")
    for name, step in (
        ("burner_pressure.inlet_found_max", "burner_pressure.inlet_working"),
        ("burner_pressure.inlet_left_max", "burner_pressure.inlet_again"),
    ):
        visit.read(name, inlet, "mbar")
        visit.says(step, WITHIN if inlet >= lowest else OUTSIDE)


def _runs(visit: Drawn, net: float, found_share: float) -> None:
    """The meter timed: what passes injectors goes as the root of the pressure behind them."""
    value = visit.read("gas.calorific_value_gross", visit.between(38.3, 39.7), "MJ/m³")
    elapsed = 250.0
    per_second = net * NET_TO_GROSS / (value * 1000)
    volume = visit.read("gas_rate.found_volume", per_second * found_share * elapsed, "m³", 3)
    visit.read("gas_rate.found_elapsed", elapsed, "s", 0)
    _heat(visit, "burner_pressure.found_gas_rate", volume * value * 1000 / elapsed, net)
    first = visit.between(1000, 8000, 3)
    visit.read("gas_rate.left_index_first", first, "m³", 3)
    visit.read("gas_rate.left_index_second", first + round(per_second * elapsed, 3), "m³", 3)
    visit.read("gas_rate.left_elapsed", elapsed, "s", 0)
    for step in ("burner_pressure.final_gas_rate", "record_and_handover.fit_together"):
        visit.says(step, WITHIN)


def _heat(visit: Drawn, step: str, gross: float, net: float) -> None:
    found = gross / NET_TO_GROSS
    low, high = (share * net for share in HEAT_INPUT)
    visit.says(step, WITHIN if low <= found <= high else OUTSIDE)
