"""Gas and air ratio: a premix burner at both ends of its range, against what its maker gives."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.flue.flue_levels import LEVEL_INPUTS, LEVELS
from calcs.domain.flue.flue_sample import (
    MONOXIDE_CELL,
    SAMPLE_CELLS,
    check_carbon,
    uncertainty_of_carbon_monoxide,
)
from calcs.domain.flue.premix_ends import ENDS, check_targets, end_findings, end_results, sample_at
from calcs.domain.gas.stoichiometry import (
    FUEL_INPUTS,
    FUEL_USES,
    MIXTURE_REFUSALS,
    burn,
    mixture_of,
)
from calcs.domain.plausibility.ratio import check_for_percent, check_for_share
from calcs.engine.declarations import STATED, Calculator, Choice, Cite, Input, Output, When
from calcs.engine.errors import Missing
from calcs.engine.findings import Finding
from calcs.engine.in_force import InForce
from calcs.engine.registry import OWN
from calcs.engine.units import Q


def gas_air_ratio(
    *,
    fuel: str,
    basis: str | None = None,
    components: tuple[Mapping[str, Any], ...] | None = None,
    target_gas: str,
    target_max: Q | None = None,
    target_min: Q | None = None,
    tolerance: Q | None = None,
    dioxide_found_max: Q | None = None,
    dioxide_found_min: Q | None = None,
    dioxide_left_max: Q | None = None,
    dioxide_left_min: Q | None = None,
    oxygen_found_max: Q | None = None,
    oxygen_found_min: Q | None = None,
    oxygen_left_max: Q | None = None,
    oxygen_left_min: Q | None = None,
    monoxide_found_max: Q | None = None,
    monoxide_found_min: Q | None = None,
    monoxide_left_max: Q | None = None,
    monoxide_left_min: Q | None = None,
    monoxide_cell: str | None = None,
    monoxide_cell_resolution: Q | None = None,
    monoxide_cell_accuracy: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """What the samples at both ends of a premix burner's range say, each by itself.

    Args:
        fuel: Gas that burns, or "mixture".
        basis: "mole" or "volume", for the shares of a mixture.
        components: Rows of component and share. [percent]
        target_gas: "carbon_dioxide" or "oxygen": what the instructions give.
        target_max: What they give at maximum. [percent]
        target_min: What they give at minimum. [percent]
        tolerance: How far off it may be, either way. [percent]
        dioxide_found_max: Carbon dioxide, maximum as found. [percent]
        dioxide_found_min: Carbon dioxide, minimum as found. [percent]
        dioxide_left_max: Carbon dioxide, maximum as left. [percent]
        dioxide_left_min: Carbon dioxide, minimum as left. [percent]
        oxygen_found_max: Oxygen, maximum as found. [percent]
        oxygen_found_min: Oxygen, minimum as found. [percent]
        oxygen_left_max: Oxygen, maximum as left. [percent]
        oxygen_left_min: Oxygen, minimum as left. [percent]
        monoxide_found_max: Carbon monoxide, maximum as found. [ppm]
        monoxide_found_min: Carbon monoxide, minimum as found. [ppm]
        monoxide_left_max: Carbon monoxide, maximum as left. [ppm]
        monoxide_left_min: Carbon monoxide, minimum as left. [ppm]
        monoxide_cell: Instrument that read the carbon monoxide.
        monoxide_cell_resolution: Its smallest step. [ppm]
        monoxide_cell_accuracy: Half-width of its error. [ppm]
        ref: Uses the tables of gases and what analysers take for air and fuel.

    Returns:
        carbon_formed: Carbon dioxide from one part of gas, by amount.
        water_formed: Water from one part of gas.
        nitrogen_held: Nitrogen that one part of gas held.
        others_held: Noble gas that one part of gas held; None for none.
        oxygen_need: Oxygen that burns one part of gas.
        air_need: Dry air that burns one part of gas.
        dry_products: Dry flue gas from one part of gas with no spare air.
        carbon_dioxide_max: Greatest carbon dioxide of the fuel, exact. [percent]
        off_<end>: Reading less the target. [percent]
        ratio_<end>: Carbon monoxide over carbon dioxide.
        dioxide_of_found_max: Carbon dioxide that an analyser works out from oxygen. [percent]
        difference_found_max: Oxygen read, less what fits the carbon dioxide. [percent]
        dioxide_of_found_min: Carbon dioxide that an analyser works out from oxygen. [percent]
        difference_found_min: Oxygen read, less what fits the carbon dioxide. [percent]
        dioxide_of_left_max: Carbon dioxide that an analyser works out from oxygen. [percent]
        difference_left_max: Oxygen read, less what fits the carbon dioxide. [percent]
        dioxide_of_left_min: Carbon dioxide that an analyser works out from oxygen. [percent]
        difference_left_min: Oxygen read, less what fits the carbon dioxide. [percent]

    Raises:
        Missing: No end was sampled.
        Impossible: There is more carbon dioxide, read or wanted, than the fuel can make, the
            tolerance is as wide as half of a target, or the fuel has no carbon.

    Not covered: which way to turn, and how the speed of the fan sets how much it burns.

    >>> gas_air_ratio(fuel="G20", target_gas="oxygen", ref=None)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    calcs.engine.errors.Missing: ('dioxide_left_max', ...)
    """
    typed = {
        "target_gas": target_gas,
        "target_max": target_max,
        "target_min": target_min,
        "tolerance": tolerance,
        "dioxide_found_max": dioxide_found_max,
        "dioxide_found_min": dioxide_found_min,
        "dioxide_left_max": dioxide_left_max,
        "dioxide_left_min": dioxide_left_min,
        "oxygen_found_max": oxygen_found_max,
        "oxygen_found_min": oxygen_found_min,
        "oxygen_left_max": oxygen_left_max,
        "oxygen_left_min": oxygen_left_min,
        "monoxide_found_max": monoxide_found_max,
        "monoxide_found_min": monoxide_found_min,
        "monoxide_left_max": monoxide_left_max,
        "monoxide_left_min": monoxide_left_min,
    }
    samples = [sample_at(end, typed) for end in ENDS]
    if all(sample.is_empty for sample in samples):
        raise Missing("dioxide_left_max", "nothing_read")
    burning = burn(mixture_of(ref, fuel, components, basis), ref)
    check_carbon(burning)
    check_targets(typed, burning, fuel, ref)
    results: dict[str, Q | None] = {**burning.steps}
    figures = monoxide_cell_resolution, monoxide_cell_accuracy
    for sample in samples:
        if sample.monoxide is not None:
            low_range = monoxide_cell != OWN
            uncertainty_of_carbon_monoxide(sample.monoxide, *figures, low_range=low_range, ref=ref)
        results |= end_results(sample, burning, fuel, ref)
    return results


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """Both ends, as found and as left, each against the target, the ratio and carbon monoxide."""
    for end in ENDS:
        for gas, cell in (("dioxide", "dioxide_cell"), ("oxygen", "oxygen_cell")):
            check_for_share(f"{gas}_{end}", given[f"{gas}_{end}"], given[f"{cell}_resolution"])
        step = given["monoxide_cell_resolution"]
        check_for_percent(f"monoxide_{end}", given[f"monoxide_{end}"], step)
    samples = [sample_at(end, given) for end in ENDS]
    findings: list[Finding] = []
    for place, sample in enumerate(samples):
        other = samples[place ^ 1]  # the two of a state stand side by side
        findings += end_findings(sample, other, given, answers, ref)
    return findings


def _readings(gas: str, unit: str, high: float, cell: str, when: When | None) -> tuple[Input, ...]:
    also = ("percent",) if unit == "ppm" else ()
    return tuple(
        Input(f"{gas}_{end}", unit, 0, high, also, optional=True, read_with=cell, when=when)
        for end in ENDS
    )


CALCULATOR = Calculator(
    formula=gas_air_ratio,
    inputs=(
        Choice("appliance", ("condensing_boiler", "other")),
        *FUEL_INPUTS,
        Choice("target_gas", ("carbon_dioxide", "oxygen"), default="carbon_dioxide"),
        Input("target_max", "percent", low=0.5, high=15, optional=True, uncertainty=STATED),
        Input("target_min", "percent", low=0.5, high=15, optional=True, uncertainty=STATED),
        Input("tolerance", "percent", low=0.05, high=1.5, optional=True, uncertainty=STATED),
        *_readings("oxygen", "percent", 21, "oxygen_cell", When("target_gas", ("oxygen",))),
        *_readings("dioxide", "percent", 20, "dioxide_cell", None),
        *_readings("monoxide", "ppm", 40000, "monoxide_cell", None),
        *LEVEL_INPUTS,
        MONOXIDE_CELL,
        *SAMPLE_CELLS,
    ),
    outputs=(
        *(Output(f"off_{end}", "percent", places=2) for end in ENDS),
        *(Output(f"ratio_{end}", "", places=5) for end in ENDS),
        Output("carbon_dioxide_max", "percent", places=2),
    ),
    sources=(
        Cite("makers_manuals", "throttle at maximum, offset at minimum, by analyser"),
        Cite("analyser_manual", "carbon dioxide from oxygen"),
        Cite("iso_6976", "atoms of each component"),
    ),
    uses=(
        *FUEL_USES,
        "combustion.air_oxygen_instrument",
        "combustion.carbon_dioxide_max.*",
        "carbon_monoxide.analyser_low_range",
        "carbon_monoxide.analyser_low_accuracy",
        *LEVELS,
    ),
    judge=judge,
    verdicts=tuple(
        f"{what}_{end}" for end in ENDS for what in ("target", "ratio", "carbon_monoxide")
    ),
    rulings=(
        "no_level",
        "no_level_high",
        "above_type_test",
        "sample_too_thin",
        "no_oxygen_left",
        "no_air_left",
        "too_lean_to_burn",
        "no_target",
        "no_tolerance",
        "other_gas",
        "other_end",
        "no_monoxide",
        "no_dioxide",
        "no_dioxide_high",
        "sample_misfit",
        "sample_misfit_high",
        "sample_is_air",
        "sample_is_air_high",
    ),
    refusals=(
        "nothing_read",
        "half_of_the_target",
        "target_beyond_this_gas",
        *MIXTURE_REFUSALS,
        "gas_without_carbon",
        "meant_in_percent",
        "meant_as_share",
        "level_above_type_test",
        "level_above_boilers",
    ),
)
