"""What `pipe_pressure_loss` and `pipe_size` share: the columns of a section and the gas in it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calcs.domain.gas.calorific_value import FLOW_USES, RANGE_USES, heat_in_volume
from calcs.domain.pipes.pipe_catalogue import (
    FITTINGS,
    MATERIALS,
    AddedLengths,
    Tube,
    tube_of,
    tubes,
)
from calcs.domain.pipes.pipe_flow import Gas, Pipe
from calcs.domain.pipes.pipe_network import METER, Branches, branches
from calcs.engine.declarations import COUNTED, STATED, Choice, Input
from calcs.engine.errors import Impossible
from calcs.engine.findings import Note
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.uncertainty import standard_uncertainty
from calcs.engine.units import Q, join_unit

LEAST_FLOW = 1e-9  # m³/s: far below a pilot flame; less is a slip or a nought
GASES = ("natural_gas", "propane", "butane")
LIMIT = "working_pressure.pipe_loss.{gas}"
LPG_CODE_LIMIT = "working_pressure.pipe_loss_lpg_code"
RUN_REFUSALS = (
    "no_other_row",
    "no_such_row",
    "round_in_a_ring",
    "no_gas_from_there",
    "added_length_not_held",
    "steeper_than_its_length",
)
JOINS = Input("joins", "", low=0, high=60, optional=True, uncertainty=COUNTED)
# A run is laid out or estimated more often than it is measured: how well, the reader may say.
GOOD_TO = "length_accuracy"
LENGTH = Input("length", "m", low=0.01, high=500, also=("ft",), uncertainty=STATED, good_to=GOOD_TO)
COUNTS = tuple(
    Input(name, "", low=0, high=50, optional=True, uncertainty=COUNTED) for name in FITTINGS
)
ADDED_LENGTH = Input(
    "added_length", "m", low=0, high=200, also=("ft",), optional=True, uncertainty=STATED
)
RISE = Input("rise", "m", -100, 100, ("ft",), optional=True, uncertainty=STATED, good_to=GOOD_TO)
LOAD = Input(
    "load", "kW", 0, 2000, also=("m**3/h", "Btu/h", "ft**3/h"), optional=True, uncertainty=STATED
)
# What both ask of the whole run, in the order of the form.
COMMON = (
    Choice("gas", GASES, default="natural_gas"),
    Choice("load_basis", ("net", "gross"), default="net"),
    heat_in_volume("calorific_value", "gas.{gas}.calorific_value_{load_basis}", low=10),
    Input(GOOD_TO, "percent", low=0, high=50, optional=True, uncertainty=STATED),
    Choice("fittings_by", ("edition_in_force", "edition_before"), default="edition_in_force"),
    Input(
        "permitted_loss",
        "mbar",
        low=0.05,
        high=5,  # twice the most that is permitted for any gas, 2.5 mbar in an older edition
        also=("kPa", "inWG"),
        default=LIMIT,
        uncertainty=STATED,
    ),
)
USES = (
    "gas.*.calorific_value_net",
    *FLOW_USES,
    *RANGE_USES,
    "pipe.*",
    "pipe.roughness.*",
    "working_pressure.pipe_loss.*",
    LPG_CODE_LIMIT,
    "fitting_lengths",
    "copper_tube",
    "steel_tube",
    "polyethylene_pipe",
)


@dataclass(frozen=True)
class Run:
    """A run before its tubes are known: who feeds whom, and what gas flows where.

    Args:
        heat: Heat input that each section carries, in W.
        volume: Flow that each carries where loads were typed as flows, in m³/s.
        flows: All that each carries, in m³/s at the reference state.
        value: Calorific value that turned the heat into flow, in J/m³.
        lift: Pressure gained for each metre of rise, in Pa/m.
        value_uncertainty: Standard uncertainty of the calorific value, as a share of it.
    """

    tree: Branches
    heat: list[float]
    volume: list[float]
    flows: list[float]
    gas: Gas
    value: float
    lift: float
    value_uncertainty: float = 0.0

    def own_flow(self, place: int) -> float:
        """Flow taken at the end of a section by its own appliance, in m³/s."""
        return self.tree.heat[place] / self.value + self.tree.volume[place]

    @property
    def total(self) -> float:
        """Flow from the meter, in m³/s."""
        return math.fsum(
            flow
            for flow, feeder in zip(self.flows, self.tree.feeders, strict=True)
            if feeder == METER
        )


def run_of(sections: Sequence[Mapping[str, Any]], gas: str, calorific_value: Q, ref: Any) -> Run:
    """The run that the reader described.

    Raises:
        Impossible: The rows do not make a tree that ends in loads, or one rises by more than it
            is long.
    """
    tree = branches(sections)
    _check_rises(sections, tree.rows)
    heat, volume = tree.carried(tree.heat), tree.carried(tree.volume)
    value = si(calorific_value)
    flows = [one / value + other for one, other in zip(heat, volume, strict=True)]
    for row, flow in zip(tree.rows, flows, strict=True):
        if flow < LEAST_FLOW:
            field = f"sections[{row - 1}].load"
            raise Impossible(field, "no_gas_from_there")
    return Run(
        tree=tree,
        heat=heat,
        volume=volume,
        flows=flows,
        gas=Gas(
            density=si(ref[f"gas.{gas}.density"]),
            viscosity=si(ref[f"gas.{gas}.viscosity"]),
            transition=si(ref["pipe.transition_reynolds"]),
        ),
        value=value,
        lift=_lift(gas, ref) if any(tree.rises) else 0.0,
        value_uncertainty=standard_uncertainty(calorific_value) / value,
    )


def is_steeper(rise: Q, length: Q) -> bool:
    """Whether a pipe would rise, or fall, by more than it is long."""
    return bool(abs(si(rise)) > si(length) * (1 + 1e-9))


def _check_rises(sections: Sequence[Mapping[str, Any]], rows: Sequence[int]) -> None:
    """Refuse a section that climbs further than it is long: natural gas gains pressure with height.

    Raises:
        Impossible: There is one.
    """
    for row, section in zip(rows, sections, strict=True):
        rise = section.get("rise")
        if rise is not None and is_steeper(rise, section["length"]):
            raise Impossible(f"sections[{row - 1}].rise", "steeper_than_its_length")


def lift_of(gas: str, ref: Any) -> Q:
    """Pressure that the gas gains over the air around the pipe for each metre of rise."""
    lighter = (1 - ref[f"gas.{gas}.relative_density"]) * ref["air.density"]
    return lighter * ref["physics.gravity"]


def _lift(gas: str, ref: Any) -> float:
    """The same as a plain number, in Pa/m."""
    lighter = (1 - si(ref[f"gas.{gas}.relative_density"])) * si(ref["air.density"])
    return lighter * si(ref["physics.gravity"])


def length_of(row: Mapping[str, Any]) -> float:
    """Length of a section in metres, with what the reader adds but without counted fittings."""
    added = row.get("added_length")
    return si(row["length"]) + (0.0 if added is None else si(added))


def lay(sections: Sequence[Mapping[str, Any]], by: str, ref: Any) -> list[tuple[Pipe, Tube]]:
    """The tube of each section, and its pipe with the fittings counted in.

    Raises:
        Impossible: A size is not made.
        NotHeld: The added length of a fitting is not held.
    """
    used = {section["material"] for section in sections}
    known = {material: tubes(material, ref) for material in MATERIALS if material in used}
    added = added_lengths(sections, by, ref)
    laid = []
    for section in sections:
        tube = _tube(section, known)
        fittings = added.of(section, tube) if added else 0.0
        if added and fittings is None:
            raise added.refusal(section, tube)
        laid.append((Pipe(length_of(section) + (fittings or 0.0), tube.bore, tube.roughness), tube))
    return laid


def added_lengths(sections: Sequence[Mapping[str, Any]], by: str, ref: Any) -> AddedLengths | None:
    """The added lengths to use; None where no row counts a fitting."""
    counted = any(row.get(column) is not None for row in sections for column in FITTINGS)
    return AddedLengths(ref, earlier=by == "edition_before") if counted else None


def _tube(section: Mapping[str, Any], known: Mapping[str, Mapping[float, Tube]]) -> Tube:
    material = section["material"]
    if material in known:
        field = f"sections[{section.get('row', 1) - 1}].size"
        return tube_of(known[material], section["size"], field)
    bore = si(section["bore"])
    return Tube(material, round(bore * 1000, 3), bore, si(section["roughness"]))


def teaching_rule(path: Sequence[tuple[float, float, float]], gas: str, ref: Any) -> Note:
    """What Pole's formula makes of a path: for teaching, never for an answer.

    Args:
        path: Flow in m³/s, length and bore in metres of each section.
        gas: Id of the gas.
        ref: Figures in force.
    """
    constant = si(ref["pipe.pole_constant"])
    relative_density = si(ref[f"gas.{gas}.relative_density"])
    total = 0.0
    for flow, length, bore in path:
        ratio, wide = flow * 3600 / constant, bore * 1000
        total += ratio * ratio * relative_density * length / (wide * wide * wide * wide * wide)
    return Note("teaching_rule", {"loss": join_unit(round_half_up(total, 2), "mbar")})
