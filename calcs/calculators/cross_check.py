"""Do all the readings of one visit fit each other, and if not, what would explain it?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calcs.charts.cross_check import SHAPES, said_charts
from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.examine import Examined, examine
from calcs.domain.cross_check.findings import findings
from calcs.domain.cross_check.form import INPUTS, NOTES, USES
from calcs.domain.cross_check.readings import RUNS, case_from
from calcs.domain.cross_check.steps import chance_of, said
from calcs.domain.gas.calorific_value import SOLD, is_unlike, range_of, range_text
from calcs.domain.gas.meter_index import gas_read
from calcs.domain.gas.stoichiometry import MIXTURE_REFUSALS
from calcs.domain.gas.supply import GOVERNING_RULINGS, governing
from calcs.domain.pipes.pipe_run import is_steeper
from calcs.engine.declarations import Calculator, Cite, Output
from calcs.engine.errors import Impossible
from calcs.engine.findings import Finding, Ruling
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

KEPT = ("cross_check", "last")  # what the formula found, for the judging of the same request


def cross_check(
    *,
    burner: str,
    gas: str,
    calorific_value_gross: Q,
    dioxide_by: str,
    plate_input: Q | None = None,
    plate_input_gross: Q | None = None,
    plate_input_min: Q | None = None,
    plate_max: Q | None = None,
    plate_min: Q | None = None,
    plate_gas_rate: Q | None = None,
    volume: Q | None = None,
    elapsed: Q | None = None,
    again_volume: Q | None = None,
    again_elapsed: Q | None = None,
    other_volume: Q | None = None,
    other_elapsed: Q | None = None,
    other_pressure: Q | None = None,
    minimum_volume: Q | None = None,
    minimum_elapsed: Q | None = None,
    burner_max: Q | None = None,
    burner_min: Q | None = None,
    meter_working: Q | None = None,
    inlet_working: Q | None = None,
    meter_standing: Q | None = None,
    inlet_standing: Q | None = None,
    gauge_open: Q | None = None,
    tube: Q | None = None,
    tube_length: Q | None = None,
    elbows: Q | None = None,
    rise: Q | None = None,
    collected: Q | None = None,
    water_elapsed: Q | None = None,
    cold: Q | None = None,
    hot: Q | None = None,
    oxygen: Q | None = None,
    carbon_dioxide: Q | None = None,
    flue_temperature: Q | None = None,
    air_temperature: Q | None = None,
    efficiency_shown: Q | None = None,
    carbon_dioxide_expected: Q | None = None,
    meter_resolution: Q | None = None,
    meter_accuracy: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """What each reading of a visit says, and how far they misfit together.

    Args:
        burner: "injectors" or "premix".
        gas: "natural_gas" or "propane".
        calorific_value_gross: Heat in the gas, gross. [MJ/m**3]
        dioxide_by: "worked_out" or "measured": how the analyser has carbon dioxide.
        plate_input: Heat input on the data plate, net. [kW]
        plate_input_gross: The same, gross. [kW]
        plate_input_min: Minimum heat input on the data plate, net. [kW]
        plate_max: Maximum burner pressure on the data plate. [mbar]
        plate_min: Minimum burner pressure on the data plate. [mbar]
        plate_gas_rate: Gas rate on the data plate. [m**3/h]
        volume: Gas passed at maximum. [m**3]
        elapsed: Length of that run. [s]
        again_volume: Gas passed at maximum, timed once more. [m**3]
        again_elapsed: Length of that run. [s]
        other_volume: Gas passed at another burner pressure. [m**3]
        other_elapsed: Length of that run. [s]
        other_pressure: Burner pressure of that run. [mbar]
        minimum_volume: Gas passed at minimum. [m**3]
        minimum_elapsed: Length of that run. [s]
        burner_max: Burner pressure at maximum. [mbar]
        burner_min: Burner pressure at minimum. [mbar]
        meter_working: At the meter outlet, working. [mbar]
        inlet_working: At the appliance inlet, working. [mbar]
        meter_standing: At the meter outlet, standing. [mbar]
        inlet_standing: At the appliance inlet, standing. [mbar]
        gauge_open: The gauge, open to the air. [mbar]
        tube: Size of the copper tube between them. [mm]
        tube_length: Its length. [m]
        elbows: Elbows in it.
        rise: Appliance above the meter. [m]
        collected: Hot water caught. [litre]
        water_elapsed: Time it took. [s]
        cold: Cold supply. [degC]
        hot: Hot outlet. [degC]
        oxygen: In the dry flue gas. [percent]
        carbon_dioxide: The same. [percent]
        flue_temperature: Flue gas as it leaves. [degC]
        air_temperature: Air that the burner takes in. [degC]
        efficiency_shown: Net efficiency that the analyser shows. [percent]
        carbon_dioxide_expected: What the instructions give. [percent]
        meter_resolution: Smallest step of the meter. [m**3]
        meter_accuracy: Half-width of its error. [percent]
        ref: Uses the figures of the other calculators, and `data/cross_check/`.

    Returns:
        flow_rate: Metered flow at maximum. [m**3/h]
        heat_input_rate: Heat input that it stands for, net. [kW]
        heat_input_burner: Heat input that the burner pressure stands for, net. [kW]
        heat_input_plate: Heat input on the data plate, net. [kW]
        water_heat: Heat in the hot water. [kW]
        heat_input_water: Heat input that the hot water stands for, net. [kW]
        loss_read: Pressure lost from meter to inlet, as read. [mbar]
        loss_expected: The same, of this flow in this run. [mbar]
        dioxide_read: Carbon dioxide as read. [percent]
        dioxide_by_oxygen: Carbon dioxide that belongs to the oxygen. [percent]
        dioxide_plate: Carbon dioxide in the instructions. [percent]
        conditions: How many sums should come out at nought.
        chi_square: How far they misfit together.
        chance: Sound visits that misfit as far. [percent]

    Raises:
        Impossible: The hot outlet is not warmer than the supply, a flue gas no warmer than its
            air, a tube is of a size that is not made or rises by more than its length, or the
            calorific value is that of another gas.

    Not covered: appliances that share a run while they are timed, and gases other than these two.

    >>> Case.__name__
    'Case'
    """
    given = dict(locals())
    for name, _ in RUNS.values():
        if given[name] is not None:
            gas_read(given[name], meter_resolution, meter_accuracy)
    _check(given)
    _check_gas(gas, calorific_value_gross, ref)
    case = case_from(given, ref)
    found = examine(case)
    ref.reference.kept[KEPT] = (ref, case, found)
    return {**said(given, case, ref), **chance_of(found)}


def _check(given: Mapping[str, Any]) -> None:
    """Refuse what swapped probes give."""
    hot, cold = given["hot"], given["cold"]
    if hot is not None and cold is not None and hot <= cold:
        raise Impossible("hot", "not_hotter")
    flue, air = given["flue_temperature"], given["air_temperature"]
    if flue is not None and air is not None and flue <= air:
        raise Impossible("flue_temperature", "probes_swapped")

    rise, length = given["rise"], given["tube_length"]
    if rise is not None and length is not None and is_steeper(rise, length):
        raise Impossible("rise", "steeper_than_its_length")


def _check_gas(gas: str, value: Q, ref: InForce) -> None:
    """Refuse the calorific value of another gas: every sum with it fits what it should not.

    One that is a little off, or net for gross, is a slip among others, which the sums weigh.

    Raises:
        Impossible: It belongs to another gas.
    """
    least, most = range_of(gas, "gross", ref)
    if si(least) * (1 - SOLD) <= si(value) <= si(most) * (1 + SOLD):
        return
    said = range_text(gas, "gross", ref)
    raise Impossible(
        "calorific_value_gross", "value_of_another_gas", low=said["low"], high=said["high"]
    )


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """The verdict, what would explain a misfit, and which reading to take."""
    of, case, found = ref.reference.kept.pop(KEPT, (None, None, None))
    if of is not ref or not isinstance(case, Case) or not isinstance(found, Examined):
        case = case_from(given, ref)
        found = examine(case)
    outside = _outside(given["gas"], given["calorific_value_gross"], ref)
    told = [_ungoverned(each, given) for each in findings(case, found, ref, outside)]
    return [*told, *said_charts(answers)]


def _outside(gas: str, value: Q, ref: InForce) -> dict[str, str] | None:
    """A calorific value that this gas can't have, and the ends of its range; None for one it can.

    With a net one in the place of gross, readings of one appliance often fit each other.
    """
    if not is_unlike(value, gas, "gross", ref):
        return None
    reading = join_unit(f"{value.to('MJ/m**3').magnitude:.1f}", "MJ/m**3")
    return {"reading": reading, **range_text(gas, "gross", ref)}


def _ungoverned(finding: Finding, given: Mapping[str, Any]) -> Finding:
    """The same, but no fit of a burner at the pressure of its inlet: no sum there is of the two."""
    burner, inlet = given["burner_max"], given["inlet_working"]
    passes = isinstance(finding, Ruling) and finding.outcome == "meets"
    if not passes or burner is None or inlet is None:
        return finding
    found = governing(burner, inlet)
    return finding if found is None else replace(found, name=finding.name)


CALCULATOR = Calculator(
    formula=cross_check,
    inputs=INPUTS,
    outputs=(
        Output("heat_input_rate", "kW", places=1),
        Output("heat_input_burner", "kW", places=1),
        Output("heat_input_plate", "kW", places=1),
        Output("heat_input_water", "kW", places=1),
        Output("loss_read", "mbar", places=2),
        Output("loss_expected", "mbar", places=2),
        Output("dioxide_read", "percent", places=1),
        Output("dioxide_by_oxygen", "percent", places=1),
        Output("dioxide_plate", "percent", places=1),
        Output("chi_square", "", places=1, no_uncertainty_reason="weighs_uncertainty"),
        Output("conditions", "", places=0, no_uncertainty_reason="weighs_uncertainty"),
        Output("chance", "percent", places=1, no_uncertainty_reason="weighs_uncertainty"),
    ),
    sources=(Cite("jcgm_100", "4.3.7 and 5.1: uncertainties of readings"),),
    uses=USES,
    judge=judge,
    verdicts=("fit",),
    notes=NOTES,
    rulings=(
        "fits",
        "does_not_fit",
        "too_few",
        "too_coarse",
        "hidden",
        "value_outside",
        *GOVERNING_RULINGS,
    ),
    refusals=(
        "not_hotter",
        "probes_swapped",
        "no_such_size",
        "steeper_than_its_length",
        "value_of_another_gas",
        *MIXTURE_REFUSALS,
    ),
    charts=SHAPES,
)
