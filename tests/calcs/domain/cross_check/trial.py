"""A generated visit as the room under test takes it, and the figures of many of them."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.relations import Read
from calcs.domain.cross_check.visit import Kind, case_of
from calcs.domain.pipes.pipe_flow import Pipe
from calcs.engine.in_force import InForce
from tests.calcs.domain.cross_check.generator import Visit

# From the units of the generator to SI base units: a factor, and where the scale begins.
MBAR, FLOW, KILOWATT, PERCENT = 100.0, 1 / 3600, 1000.0, 0.01
SCALES = {
    **dict.fromkeys(("gas_rate", "gas_rate_again", "gas_rate_other", "gas_rate_min"), FLOW),
    **dict.fromkeys(("plate_gas_rate",), FLOW),
    **dict.fromkeys(("plate_input", "plate_input_gross", "plate_input_min"), KILOWATT),
    **dict.fromkeys(("oxygen", "carbon_dioxide", "efficiency_shown", "plate_dioxide"), PERCENT),
    "calorific_value": 1e6,
    "water_flow": 1 / 60000,
}
TEMPERATURES = ("cold", "hot", "flue_temperature", "air_temperature")
ACCURACIES = {"meter": 0.02 / 3**0.5, "gauge": 0.005 / 3**0.5}
# Readings that a visit may leave out, in the groups in which they are left out.
GROUPS = (
    ("burner_min", "plate_burner_min", "plate_input_min"),
    ("gas_rate_again",),
    ("gas_rate_other", "burner_other"),
    ("gas_rate_min",),
    ("plate_input_gross",),
    ("plate_gas_rate",),
    ("meter_working", "inlet_working"),
    ("meter_standing", "inlet_standing"),
    ("gauge_open",),
    ("water_flow", "hot", "cold"),
    ("oxygen", "flue_temperature", "air_temperature", "carbon_dioxide", "plate_dioxide"),
    ("efficiency_shown",),
)


def thinned(visit: Visit, seed: int, keep: float = 0.65) -> Visit:
    """The visit as somebody reads it who leaves some of it out."""
    chance = random.Random(seed * 7919 + 1)
    for group in GROUPS:
        if chance.random() > keep:
            for name in group:
                visit.read.pop(name, None)
    return visit


def readings(visit: Visit) -> dict[str, Read]:
    found = {}
    for name, value in visit.read.items():
        width = visit.spread.get(name, 0.0)
        if name in TEMPERATURES:
            found[name] = Read(value + 273.15, width)
        else:
            scale = SCALES.get(name, MBAR)
            found[name] = Read(value * scale, width * scale)
    return found


def case(visit: Visit, ref: InForce) -> Case:
    pipe = Pipe(visit.length, visit.bore, 1.5e-6)
    kind = Kind(visit.burner, visit.gas, pipe, 0.0, visit.separate_cell)
    return case_of(readings(visit), kind, ACCURACIES, ref)


def share(flags: Iterable[bool]) -> float:
    found = list(flags)
    return found.count(True) / len(found) if found else float("nan")


def told(figures: Mapping[str, float]) -> str:
    return "  ".join(f"{name} {value:.3f}" for name, value in figures.items())
