"""Combustion: ratio of carbon monoxide to carbon dioxide, spare air, and fit with the fuel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.charts.combustion import FUEL_LINE, fuel_chart
from calcs.domain.flue.flue_findings import line_of_fuel, sound_findings, untrue_findings
from calcs.domain.flue.flue_fit import fit, why_untrue
from calcs.domain.flue.flue_gas import flue_gas
from calcs.domain.flue.flue_levels import LEVEL_INPUTS, LEVELS
from calcs.domain.flue.flue_sample import (
    MONOXIDE_CELL,
    SAMPLE,
    SAMPLE_CELLS,
    SAMPLE_REFUSALS,
    air_ratio,
    by_instrument,
    carbon_dioxide_of,
    check_carbon,
    check_for_air,
    check_shares,
    instrument_maximum,
    uncertainty_of_carbon_monoxide,
)
from calcs.domain.gas.stoichiometry import (
    FUEL_INPUTS,
    FUEL_USES,
    MIXTURE_REFUSALS,
    burn,
    mixture_of,
)
from calcs.domain.plausibility.ratio import check_for_percent
from calcs.engine.declarations import STATED, Calculator, Choice, Cite, Input, Output, TableShape
from calcs.engine.findings import Finding, Note
from calcs.engine.in_force import InForce
from calcs.engine.registry import OWN
from calcs.engine.units import Q


def combustion(
    *,
    fuel: str,
    basis: str | None = None,
    components: tuple[Mapping[str, Any], ...] | None = None,
    carbon_monoxide: Q,
    oxygen: Q | None = None,
    carbon_dioxide: Q | None = None,
    carbon_dioxide_expected: Q | None = None,
    monoxide_cell: str | None = None,
    monoxide_cell_resolution: Q | None = None,
    monoxide_cell_accuracy: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """What one sample of dry flue gas says of the combustion.

    Args:
        fuel: Gas that burns, or "mixture".
        basis: "mole" or "volume", for the shares of a mixture.
        components: Rows of component and share. [percent]
        carbon_monoxide: Read in the dry flue gas. [ppm]
        oxygen: The same. [percent]
        carbon_dioxide: The same. [percent]
        carbon_dioxide_expected: What the instructions give at this rate. [percent]
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
        carbon_dioxide_instrument: Carbon dioxide that an analyser works out from oxygen. [percent]
        carbon_dioxide_exact: Carbon dioxide that belongs to the oxygen, exact. [percent]
        ratio: Carbon monoxide over carbon dioxide.
        air_ratio: Air over the air needed, exact for the fuel.
        oxygen_left: Oxygen that is left over.
        argon_left: Argon from the air.
        nitrogen_left: Nitrogen from the air and from the gas.
        dry_flue_gas: All of the dry flue gas from one part of gas.
        wet_flue_gas: The same with its water.
        air_ratio_instrument: The same as an analyser works it out.
        carbon_monoxide_undiluted: Carbon monoxide without the spare air, exact. [ppm]
        carbon_monoxide_undiluted_instrument: The same as an analyser works it out. [ppm]
        oxygen_expected: Oxygen that belongs to the carbon dioxide read. [percent]
        oxygen_difference: Oxygen read, less what fits the carbon dioxide. [percent]
        implied_maximum: Greatest carbon dioxide of a fuel that the two readings fit. [percent]
        leaked_air: Air in the sample beyond what the instructions give. [percent]

    Raises:
        Missing: Neither oxygen nor carbon dioxide was read.
        Impossible: The sample has the oxygen of air, there is more carbon dioxide than the fuel can
            make, or the fuel has no carbon.

    Of a sample that can't be true, or can't be told from air, only what shows that is returned.

    Not covered: combustion that makes soot or more than traces of carbon monoxide, and the carbon
    dioxide that air holds.

    >>> from calcs.engine.units import Quantity
    >>> from calcs.engine.worked_example import in_force
    >>> atoms = {"carbon": "1", "hydrogen": "4", "nitrogen": "0", "oxygen": "0"}
    >>> methane = {"component": "methane", "title": "Methane", **atoms}
    >>> ref = in_force(
    ...     {
    ...         "combustion.air_oxygen_dry": "20 percent",
    ...         "combustion.air_argon": "1 percent",
    ...         "combustion.air_oxygen_instrument": "20 percent",
    ...         "combustion.carbon_dioxide_max.natural_gas": "12 percent",
    ...     },
    ...     {
    ...         "gas_components": [methane],
    ...         "test_gases": [{"gas": "G20", "composition": "methane 100"}],
    ...     },
    ... )
    >>> sample = combustion(
    ...     fuel="G20",
    ...     carbon_monoxide=Quantity(90, "ppm"),
    ...     carbon_dioxide=Quantity(9, "percent"),
    ...     ref=ref,
    ... )
    >>> round(sample["ratio"].magnitude, 12), sample["air_need"].magnitude
    (0.001, 10.0)
    """
    uncertainty_of_carbon_monoxide(
        carbon_monoxide,
        monoxide_cell_resolution,
        monoxide_cell_accuracy,
        low_range=monoxide_cell != OWN,
        ref=ref,
    )
    mixture = mixture_of(ref, fuel, components, basis)
    burning = burn(mixture, ref)
    check_carbon(burning)
    check_for_air(oxygen, carbon_monoxide, ref)
    results: dict[str, Q | None] = {**burning.steps}
    if oxygen is not None and carbon_dioxide is not None:
        results |= fit(burning, fuel, (oxygen, carbon_dioxide), ref, carbon_monoxide)
    maximum = instrument_maximum(fuel, burning, ref)
    if why_untrue(results.get("oxygen_difference"), oxygen, carbon_dioxide, ref):
        return results | carbon_dioxide_of(maximum, oxygen, ref)
    ratio = air_ratio(burning, oxygen, carbon_dioxide, ref)
    found = by_instrument(maximum, oxygen, carbon_dioxide, ref)
    gas = flue_gas(burning, ratio, ref)
    read = found["carbon_dioxide_instrument"] if carbon_dioxide is None else carbon_dioxide
    results |= {
        **found,
        "air_ratio": ratio,
        **gas.steps,
        "ratio": (carbon_monoxide / read).to(""),
        "carbon_monoxide_undiluted": (carbon_monoxide * gas.dry / burning.dry_products).to("ppm"),
        "carbon_monoxide_undiluted_instrument": (
            carbon_monoxide * found["air_ratio_instrument"]
        ).to("ppm"),
    }
    if oxygen is not None:
        results["carbon_dioxide_exact"] = (burning.carbon_dioxide / gas.dry).to("percent")
    if carbon_dioxide_expected is not None:
        results["leaked_air"] = (1 - read / carbon_dioxide_expected).to("percent")
    return results


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """The readings against the levels for the appliance, the fuel and the instructions."""
    check_for_percent(
        "carbon_monoxide", given["carbon_monoxide"], given["monoxide_cell_resolution"]
    )
    check_shares(given)
    oxygen, dioxide = given["oxygen"], given["carbon_dioxide"]
    untrue = why_untrue(answers.get("oxygen_difference"), oxygen, dioxide, ref)
    if untrue:
        findings = untrue_findings(untrue, given, answers, ref)
    else:
        findings = sound_findings(given, answers, ref)
    if dioxide is None:
        findings.append(Note("dioxide_worked_out"))
    return [*findings, line_of_fuel(answers, ref), fuel_chart(given, answers, ref)]


APPLIANCES = ("condensing_boiler", "boiler", "water_heater", "gas_fire", "cooker", "other")
CALCULATOR = Calculator(
    formula=combustion,
    inputs=(
        Choice("appliance", APPLIANCES),
        *FUEL_INPUTS,
        Input(
            "carbon_monoxide",
            "ppm",
            low=0,
            high=40000,
            also=("percent",),
            read_with="monoxide_cell",
        ),
        *SAMPLE,
        Input(
            "carbon_dioxide_expected",
            "percent",
            low=0.5,
            high=20,
            optional=True,
            uncertainty=STATED,
        ),
        *LEVEL_INPUTS,
        MONOXIDE_CELL,
        *SAMPLE_CELLS,
    ),
    outputs=(
        Output("ratio", "", places=5),
        Output("air_ratio", "", places=3),
        Output("air_ratio_instrument", "", places=3),
        Output("carbon_monoxide_undiluted", "ppm", places=0),
        Output("carbon_monoxide_undiluted_instrument", "ppm", places=0),
        Output("carbon_dioxide_exact", "percent", places=2),
        Output("carbon_dioxide_instrument", "percent", places=2),
        Output("carbon_dioxide_max", "percent", places=2),
        Output("oxygen_difference", "percent", places=2),
        Output("implied_maximum", "percent", places=1),
        Output("leaked_air", "percent", places=1),
    ),
    sources=(
        Cite("analyser_manual", "formulas of excess air and undiluted carbon monoxide"),
        Cite("iso_6976", "atoms of each component"),
    ),
    uses=(
        *FUEL_USES,
        "combustion.air_argon",
        "combustion.air_oxygen_instrument",
        "combustion.carbon_dioxide_max.*",
        "carbon_monoxide.analyser_low_range",
        "carbon_monoxide.analyser_low_accuracy",
        *LEVELS,
    ),
    judge=judge,
    verdicts=(
        "ratio",
        "ratio_investigate",
        "type_test",
        "carbon_monoxide",
        "fuel",
        "dilution",
    ),
    notes=("mostly_air", "dioxide_worked_out", "same_line"),
    rulings=(
        "no_level",
        "no_level_high",
        "above_type_test",
        "sample_too_thin",
        "no_oxygen_left",
        "no_air_left",
        "too_lean_to_burn",
        "sample_diluted",
        "sample_misfit",
        "sample_misfit_high",
        "sample_is_air",
        "sample_is_air_high",
        "fits",
        "too_much",
        "too_little",
        "as_set",
        "diluted",
        "short_of_air",
    ),
    refusals=(
        *MIXTURE_REFUSALS,
        *SAMPLE_REFUSALS,
        "gas_without_carbon",
        "monoxide_in_air",
        "meant_in_percent",
        "level_above_type_test",
        "level_above_boilers",
    ),
    tables=(
        TableShape(
            "make_up",
            (Output("part", "", 0), Output("dry", "percent", 2), Output("wet", "percent", 2)),
        ),
        TableShape(
            "line",
            (
                Output("line_air_ratio", "", 1),
                Output("line_oxygen", "percent", 2),
                Output("line_carbon_dioxide", "percent", 2),
            ),
        ),
    ),
    charts=(FUEL_LINE,),
)
