"""Pipe answers by the library `fluids`, which solves the friction factor in its own way.

The tubes and the gases are typed here from their standards, not read from the project.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity, parse_quantity

__all__ = [
    "branched_run_by_fluids",
    "cooling_of_a_closed_pipe",
    "every_set_by_fluids",
    "flow_at_limit_by_fluids",
    "one_tube_by_fluids",
    "run_of_a_visit_by_fluids",
]

# EN 1057 R250, EN 10255 medium, EN 1555 SDR 11: bore and roughness in m.
TUBES = {
    ("copper", 8.0): (0.0068, 1.5e-6),
    ("copper", 10.0): (0.0088, 1.5e-6),
    ("copper", 12.0): (0.0108, 1.5e-6),
    ("copper", 15.0): (0.0136, 1.5e-6),
    ("copper", 22.0): (0.0202, 1.5e-6),
    ("copper", 28.0): (0.0262, 1.5e-6),
    ("copper", 35.0): (0.0326, 1.5e-6),
    ("copper", 42.0): (0.0396, 1.5e-6),
    ("steel", 25.0): (0.0273, 46e-6),
    ("polyethylene", 32.0): (0.0260, 7e-6),
}
# Density in kg/m³ and viscosity in Pa·s at 15 °C: relative density 0.6, ISO 6976 and CoolProp.
GASES = {"natural_gas": (0.735, 1.088e-5), "propane": (1.8992, 7.88e-6)}
AIR, GRAVITY = 1.2254, 9.80665
RELATIVE_DENSITY = {"natural_gas": 0.6, "propane": 1.55}
ADDED = {22.0: {"elbows": 0.60, "bends": 0.30}, 15.0: {"elbows": 0.40, "bends": 0.20}}


def _size(row: Mapping[str, str]) -> tuple[str, float]:
    return row.get("material", "copper"), float(row["size"].partition(" ")[0])


def _loss(row: Mapping[str, str], flow: float, gas: str) -> float:
    from fluids.core import Reynolds, dP_from_K
    from fluids.friction import friction_factor

    bore, roughness = TUBES[_size(row)]
    density, viscosity = GASES[gas]
    added = ADDED.get(_size(row)[1], {})
    length = parse_quantity(row["length"]).to("m").magnitude
    length += sum(float(row[kind]) * each for kind, each in added.items() if kind in row)
    speed = flow / (3.141592653589793 / 4 * bore**2)
    reynolds = Reynolds(V=speed, D=bore, rho=density, mu=viscosity)
    factor = friction_factor(Re=reynolds, eD=roughness / bore)
    return dP_from_K(factor * length / bore, rho=density, V=speed)


def one_tube_by_fluids(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: Reynolds number, friction factor (64/Re or Colebrook) and loss of one tube."""
    row = given["sections"][0]
    flow = parse_quantity(row["load"]).to("m**3/s").magnitude
    gas = given.get("gas", "natural_gas")
    friction = _loss(row, flow, gas)
    found = {"friction_loss": Quantity(friction, "Pa")}
    if "rise" in row:
        rise = parse_quantity(row["rise"]).to("m").magnitude
        gain = (1 - RELATIVE_DENSITY[gas]) * AIR * GRAVITY * rise
        found["height_gain"] = Quantity(gain, "Pa")
        found["worst_loss"] = Quantity(friction - gain, "Pa")
    return found


def flow_at_limit_by_fluids(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: the flow that loses what is permitted, found by halving, in one rough tube."""
    from fluids.core import Reynolds, dP_from_K
    from fluids.friction import friction_factor

    row = given["sections"][0]
    bore, roughness, length = (
        parse_quantity(row[name]).to("m").magnitude for name in ("bore", "roughness", "length")
    )
    permitted = parse_quantity(given["permitted_loss"]).to("Pa").magnitude
    density, viscosity = GASES["natural_gas"]
    low, high = 0.0, 1.0
    for _ in range(100):
        flow = (low + high) / 2
        speed = flow / (3.141592653589793 / 4 * bore**2)
        reynolds = Reynolds(V=speed, D=bore, rho=density, mu=viscosity)
        factor = friction_factor(Re=reynolds, eD=roughness / bore)
        lost = dP_from_K(factor * length / bore, rho=density, V=speed)
        low, high = (flow, high) if lost < permitted else (low, flow)
    return {"flow_at_limit": Quantity(low, "m**3/s")}


def branched_run_by_fluids(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: the loss of every path of a tree, each row joined to the one that it names."""
    rows, gas = given["sections"], given.get("gas", "natural_gas")
    own, feeder, flows = _tree(rows)
    lost: list[float] = []
    for place, row in enumerate(rows):
        before = lost[feeder[place]] if feeder[place] >= 0 else 0.0
        lost.append(before + _loss(row, flows[place], gas))
    worst = max((place for place in range(len(rows)) if own[place]), key=lost.__getitem__)
    return {
        "worst_loss": Quantity(lost[worst], "Pa"),
        "worst_flow": Quantity(own[worst], "m**3/s"),
        "total_flow": Quantity(sum(own), "m**3/s"),
    }


def every_set_by_fluids(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: every set of copper tubes tried; the one with the least length times size.

    Sets in which a tube is wider than the one that feeds it count only where that is asked for.
    """
    any_width = given.get("towards_meter") == "any_width"
    rows = given["sections"]
    own, feeder, flows = _tree(rows)
    sizes = sorted(size for material, size in TUBES if material == "copper")
    lengths = [float(row["length"].partition(" ")[0]) for row in rows]
    losses = [
        {size: _loss({**row, "size": f"{size:g} mm"}, flow, "natural_gas") for size in sizes}
        for row, flow in zip(rows, flows, strict=True)
    ]
    best: tuple[float, float, tuple[float, ...]] = (float("inf"), 0.0, ())
    for chosen in itertools.product(sizes, repeat=len(rows)):
        if not any_width and any(
            at >= 0 and chosen[at] < size for at, size in zip(feeder, chosen, strict=True)
        ):
            continue
        lost: list[float] = []
        for place, size in enumerate(chosen):
            before = lost[feeder[place]] if feeder[place] >= 0 else 0.0
            lost.append(before + losses[place][size])
        worst = max(loss for loss, load in zip(lost, own, strict=True) if load)
        tube = sum(length * size for length, size in zip(lengths, chosen, strict=True))
        if worst <= 100 and tube < best[0]:
            best = (tube, worst, chosen)
    return {
        "worst_loss": Quantity(best[1], "Pa"),
        "largest_size": Quantity(max(best[2]), "mm"),
        "smallest_size": Quantity(min(best[2]), "mm"),
    }


def _tree(rows: list[Mapping[str, str]]) -> tuple[list[float], list[int], list[float]]:
    """Own flow, feeder and carried flow of each row. Rows are written feeder first."""
    feeder = [
        int(row["joins"]) - 1 if "joins" in row else place - 1 for place, row in enumerate(rows)
    ]
    own = [parse_quantity(row.get("load", "0 m³/h")).to("m**3/s").magnitude for row in rows]
    flows = list(own)
    for place in range(len(rows) - 1, -1, -1):
        if feeder[place] >= 0:
            flows[feeder[place]] += flows[place]
    return own, feeder, flows


def cooling_of_a_closed_pipe(given: Mapping[str, str]) -> dict[str, Any]:
    """CoolProp: methane at constant density; the temperature at which the pressure has fallen."""
    from CoolProp.CoolProp import PropsSI

    warm = parse_quantity(given["gas_temperature"]).to("kelvin").magnitude
    start = 101325 + parse_quantity(given["test_start"]).to("Pa").magnitude
    end = 101325 + parse_quantity(given["test_end"]).to("Pa").magnitude
    density = PropsSI("D", "T", warm, "P", start, "Methane")
    cold = PropsSI("T", "D", density, "P", end, "Methane")
    return {"temperature_change": Quantity(warm - cold, "kelvin")}


def run_of_a_visit_by_fluids(given: Mapping[str, Any]) -> dict[str, Any]:
    """`fluids`: what the timed flow loses in the tube of a visit, and what was read."""
    tube = {"size": given["tube"], "length": given["tube_length"]}
    flow = parse_quantity(given["volume"]) / parse_quantity(given["elapsed"])
    read = [parse_quantity(given[name]) for name in ("meter_working", "inlet_working")]
    gas = given.get("gas", "natural_gas")
    return {
        "loss_expected": Quantity(_loss(tube, flow.to("m**3/s").magnitude, gas), "Pa"),
        "loss_read": read[0] - read[1],
    }
