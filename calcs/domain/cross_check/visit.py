"""From what was read on a visit to a case: figures and physics laid beside the readings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from calcs.domain.cross_check.case import Allowances, Case, allowances_of
from calcs.domain.cross_check.physics import Supply, derived_quantities, doubt_of_law, fuel_of
from calcs.domain.cross_check.relations import Quantity as About
from calcs.domain.cross_check.relations import Read, Rules, Sheet, rules_of, size_of
from calcs.domain.pipes.pipe_flow import Gas, Pipe
from calcs.domain.pipes.pipe_run import lift_of
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.units import Quantity, parse_quantity

CORRECTION = "billing.volume_correction"
TEST_GASES = "test_gases"
KEPT = "cross_check"
LAW, COUNTED = "either_law", "condensing_counted"
WHOLE = 1e-6  # of a number: so near to a whole one is whole, in whatever unit it was typed
# What was written down, beside what was read: a slip of the pen moves both, a wrong cell one.
WRITTEN = {
    "oxygen": "oxygen_as_written",
    "flue_temperature": "flue_as_written",
    "air_temperature": "air_as_written",
}


@dataclass(frozen=True)
class Kind:
    """What kind of appliance it is, and on what.

    Args:
        burner: "injectors" or "premix".
        gas: "natural_gas" or "propane".
        pipe: The run from the meter; None where it isn't known.
        rise: The appliance above the meter, in metres.
        separate_cell: Carbon dioxide was measured by itself, not worked out from oxygen.
    """

    burner: str
    gas: str
    pipe: Pipe | None = None
    rise: float = 0.0
    separate_cell: bool = False


def rules_and_allowances(ref: InForce) -> tuple[Rules, Allowances]:
    """What data says, read once for an edition."""
    kept = ref.reference.kept
    key = (KEPT, "rules")
    if key not in kept:
        data = ref.reference.cross_check
        kept[key] = (rules_of(data), allowances_of(data))
    found: tuple[Rules, Allowances] = kept[key]
    return found


def case_of(
    readings: Mapping[str, Read], kind: Kind, accuracies: Mapping[str, float], ref: InForce
) -> Case:
    """The case of a visit.

    Args:
        readings: What was read, by the name of its quantity.
        kind: What it was read on.
        accuracies: By the name of an instrument, its standard uncertainty as a share.
        ref: Figures in force.
    """
    rules, allowances = rules_and_allowances(ref)
    read = {**_figures(kind, ref), **_as_written(readings, kind)}
    rounded = allowances.shares["rounding_of_plate"]
    for name, one in read.items():
        about = rules.quantities.get(name)
        if about is not None and about.rounding:
            read[name] = Read(one.value, _rounding(one, about, rounded))
    gas = Gas(
        si(ref[f"gas.{kind.gas}.density"]),
        si(ref[f"gas.{kind.gas}.viscosity"]),
        si(ref["pipe.transition_reynolds"]),
    )
    supply = Supply(kind.pipe, gas)
    derived = derived_quantities(kind.gas, _wobbe(kind.gas, ref), supply, ref)
    sheet = Sheet(read, kind.burner, rules, derived)
    flow = _of_flow(allowances, read, supply, ref)
    return Case(sheet, _of_flue(flow, sheet), accuracies)


def _rounding(one: Read, about: About, share: float) -> float:
    """Standard uncertainty of what a plate says, by its last digit."""
    step = about.step
    if about.tenfold and step:
        coarse = one.value / (10 * step)
        step *= 10 if abs(coarse - round(coarse)) < WHOLE * coarse else 1
    return max(share * one.value, step / math.sqrt(12))


def _of_flow(
    allowances: Allowances, read: Mapping[str, Read], supply: Supply, ref: InForce
) -> Allowances:
    """The same, with what nobody knows of the friction at the flow that was timed."""
    turbulent = float(ref.reference.cross_check["figures"]["turbulent_from"]["reynolds"])
    flow = read["gas_rate"].value if "gas_rate" in read else 0.0
    share = allowances.shares[LAW] * doubt_of_law(flow, supply, turbulent)
    return replace(allowances, shares={**allowances.shares, LAW: share})


def _of_flue(allowances: Allowances, sheet: Sheet) -> Allowances:
    """The same, with what an analyser may or may not have counted at this flue temperature."""
    known = [sheet.value(name) for name in ("flue_as_written", "oxygen_as_written")]
    gained = 0.0 if None in known else sheet.derived["heat_of_condensing"](*known) or 0.0
    share = allowances.shares[COUNTED] * gained
    return replace(allowances, shares={**allowances.shares, COUNTED: share})


def _as_written(readings: Mapping[str, Read], kind: Kind) -> dict[str, Read]:
    """Carbon dioxide by the name of how it was found, and what was written down."""
    read = dict(readings)
    dioxide = read.pop("carbon_dioxide", None)
    if dioxide is not None:
        worked_out = not kind.separate_cell and "oxygen" in read
        name = "dioxide_worked_out" if worked_out else "carbon_dioxide"
        read[name] = Read(dioxide.value) if worked_out else dioxide
    for name, copy in WRITTEN.items():
        if name in read:
            read[copy] = Read(read[name].value)
    return read


def _figures(kind: Kind, ref: InForce) -> dict[str, Read]:
    said, gas = ref.reference.cross_check["figures"], kind.gas
    test_gas = said["gases"][gas]["test_gas"]
    row = next(one for one in ref.rows(TEST_GASES) if one["gas"] == test_gas)
    gross, net = (si(parse_quantity(row[f"calorific_value_{one}"])) for one in ("gross", "net"))
    gain = si(lift_of(gas, ref)) * kind.rise if kind.rise else 0.0
    one_kilogram = si(Quantity(1, "kg/litre"))  # the trade's rule: a litre is a kilogram
    values = {
        "volume_correction": si(ref[CORRECTION]),
        "gross_to_net": si(ref[f"gas.{gas}.gross_to_net"]),
        "plate_gross_to_net": gross / net,
        "plate_calorific_value": net,
        "usual_efficiency": size_of(said["usual_efficiency"][kind.burner]["value"]),
        "water_heat_of_litre": si(ref["water.heat_capacity"]) * one_kilogram,
        "height_gain": gain,
        "air_oxygen": fuel_of(gas, ref).air_oxygen,
    }
    return {name: Read(value) for name, value in values.items()}


def _wobbe(gas: str, ref: InForce) -> tuple[float, float, float]:
    said = ref.reference.cross_check["figures"]["gases"][gas]
    row = next(one for one in ref.rows(TEST_GASES) if one["gas"] == said["test_gas"])
    ratio = si(parse_quantity(said["wobbe_gross"])) / si(parse_quantity(row["wobbe_gross"]))
    return ratio, si(parse_quantity(said["at"])), float(said["power"])
