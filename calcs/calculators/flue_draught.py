"""Flue draught: how hard the warm flue gas pulls, by the weight of real flue gas."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calcs.domain.flue.flue_fit import FIT_REFUSALS, check_sample
from calcs.domain.flue.flue_gas import FlueGas, flue_gas, molar_mass
from calcs.domain.flue.flue_heat import condensed
from calcs.domain.flue.flue_sample import (
    SAMPLE,
    SAMPLE_CELLS,
    SAMPLE_REFUSALS,
    air_ratio,
    check_shares,
)
from calcs.domain.gas.stoichiometry import (
    FUEL_INPUTS,
    FUEL_USES,
    MIXTURE_REFUSALS,
    burn,
    mixture_of,
)
from calcs.engine.declarations import STATED, WRITTEN, Calculator, Cite, Input, Instrument, Output
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

PRESSURE = "reference_state.pressure"


def flue_draught(
    *,
    fuel: str,
    basis: str | None = None,
    components: tuple[Mapping[str, Any], ...] | None = None,
    flue_temperature: Q,
    outside_temperature: Q,
    height: Q,
    oxygen: Q | None = None,
    carbon_dioxide: Q | None = None,
    pressure: Q,
    ref: InForce,
) -> dict[str, Q | None]:
    """Pull of a flue from the difference in weight between the air outside and what is in it.

    Args:
        fuel: Gas that burns, or "mixture".
        basis: "mole" or "volume", for the shares of a mixture.
        components: Rows of component and share. [percent]
        flue_temperature: Mean of the flue gas over the height. [degC]
        outside_temperature: Air outside. [degC]
        height: From the appliance's outlet to the terminal, straight up. [m]
        oxygen: Read in the dry flue gas where it rises. [percent]
        carbon_dioxide: The same. [percent]
        pressure: Of the air, absolute. [mbar]
        ref: Uses the tables of gases and of saturation, and `flue.draught_constant`.

    Returns:
        carbon_formed: Carbon dioxide from one part of gas, by amount.
        water_formed: Water from one part of gas.
        nitrogen_held: Nitrogen that one part of gas held.
        others_held: Noble gas that one part of gas held; None for none.
        oxygen_need: Oxygen that burns one part of gas.
        air_need: Dry air that burns one part of gas.
        dry_products: Dry flue gas from one part of gas with no spare air.
        carbon_dioxide_max: Greatest carbon dioxide of the fuel. [percent]
        air_ratio: Air over the air needed.
        oxygen_left: Oxygen that is left over.
        argon_left: Argon from the air.
        nitrogen_left: Nitrogen from the air and from the gas.
        dry_flue_gas: All of the dry flue gas from one part of gas.
        wet_flue_gas: The same with its water.
        water_condensed: Water that has condensed at that temperature.
        flue_molar_mass: Mass of a mole of the flue gas that rises. [kg/kmol]
        flue_density: Density of the flue gas. [kg/m**3]
        outside_density: Density of the air outside. [kg/m**3]
        draught: Pull at rest, by those densities. [Pa]
        draught_rule: Pull by the rule that takes flue gas for air. [Pa]
        rule_difference: The rule's less that by densities. [Pa]

    Raises:
        Missing: Neither oxygen nor carbon dioxide was read.
        Impossible: The sample can't be told from air, its oxygen and carbon dioxide contradict each
            other, or there is more carbon dioxide than the fuel can make.

    Not covered: resistance of the flue, wind at the terminal, fans, cooling on the way up, and
    damp in the air outside.

    >>> from calcs.engine.units import Quantity
    >>> from calcs.engine.worked_example import in_force
    >>> atoms = {"carbon": "1", "hydrogen": "4", "nitrogen": "0", "oxygen": "0"}
    >>> methane = {"component": "methane", "title": "Methane", **atoms}
    >>> ref = in_force(
    ...     {"combustion.air_oxygen_dry": "20 percent"},
    ...     {
    ...         "gas_components": [methane],
    ...         "test_gases": [{"gas": "G20", "composition": "methane 100"}],
    ...     },
    ... )
    >>> flue_draught(  # doctest: +ELLIPSIS
    ...     fuel="G20",
    ...     flue_temperature=Quantity(100, "degC"),
    ...     outside_temperature=Quantity(10, "degC"),
    ...     height=Quantity(5, "m"),
    ...     pressure=Quantity(1, "bar"),
    ...     ref=ref,
    ... )
    Traceback (most recent call last):
    calcs.engine.errors.Missing: ('oxygen', ...)
    """
    burning = burn(mixture_of(ref, fuel, components, basis), ref)
    check_sample(burning, fuel, oxygen, carbon_dioxide, ref)
    ratio = air_ratio(burning, oxygen, carbon_dioxide, ref)
    gas = flue_gas(burning, ratio, ref)
    flue, outside = flue_temperature.to("kelvin"), outside_temperature.to("kelvin")
    water_condensed = condensed(gas, flue, pressure, ref)
    flue_mass = molar_mass(_rising(gas, water_condensed), ref)
    constant, gravity = ref["physics.molar_gas_constant"], ref["physics.gravity"]
    flue_density = (pressure * flue_mass / (constant * flue)).to("kg/m**3")
    warmer = ref["reference_state.temperature"].to("kelvin") / outside
    outside_density = (ref["air.density"] * warmer * pressure / ref[PRESSURE]).to("kg/m**3")
    draught = (gravity * height * (outside_density - flue_density)).to("Pa")
    rule = ref["flue.draught_constant"] * gravity * height * (1 / outside - 1 / flue)
    draught_rule = rule.to("Pa")
    return {
        **burning.steps,
        "air_ratio": ratio,
        **gas.steps,
        "water_condensed": water_condensed,
        "flue_molar_mass": flue_mass,
        "flue_density": flue_density,
        "outside_density": outside_density,
        "draught": draught,
        "draught_rule": draught_rule,
        "rule_difference": draught_rule - draught,
    }


def _rising(gas: FlueGas, water_condensed: Q) -> FlueGas:
    """The flue gas less the water that runs down the flue."""
    return replace(gas, water=gas.water - water_condensed, wet=gas.wet - water_condensed)


def judge(
    *,
    given: Mapping[str, Any],
    answers: Mapping[str, Q],
    ref: InForce,  # noqa: ARG001  every judge is given the figures
) -> list[Finding]:
    """Whether it pulls at all, and as hard as it must."""
    check_shares(given)
    draught = answers["draught"]
    expanded_uncertainty = si(expanded(draught))
    values = {"draught": join_unit(round_half_up(si(draught), 1), "Pa")}
    if abs(si(draught)) <= expanded_uncertainty:
        findings: list[Finding] = [Ruling("pull", "cannot_tell", "still", (), values)]
    elif si(draught) < 0:
        findings = [Ruling("pull", "does_not_meet", "down", (), values)]
    else:
        findings = [Ruling("pull", "meets", "up", (), values)]
    if (needed := given["draught_needed"]) is not None:
        findings.append(Compare("needed", draught, needed, None, (NEEDED,), "Pa", 1))
    if answers["water_condensed"].magnitude > 0:
        findings.append(Note("wet_flue"))
    return findings


NEEDED = "flue.draught_needed"

CALCULATOR = Calculator(
    formula=flue_draught,
    inputs=(
        *FUEL_INPUTS,
        Input("flue_temperature", "degC", low=-20, high=600, also=("degF",), read_with="probe"),
        Input("outside_temperature", "degC", low=-40, high=50, also=("degF",), read_with="probe"),
        Input("height", "m", low=0.1, high=200, also=("ft", "mm"), uncertainty=WRITTEN),
        *SAMPLE,
        Input(
            "pressure",
            "mbar",
            low=600,
            high=1100,
            also=("kPa",),
            default=PRESSURE,
            uncertainty=WRITTEN,
        ),
        Input(
            "draught_needed",
            "Pa",
            low=0.1,
            high=500,
            also=("mbar", "mmWG", "inWG"),
            optional=True,
            uncertainty=STATED,
        ),
        Instrument("probe", "flue_temperature", "delta_degC", "analyser_temperature", 50),
        *SAMPLE_CELLS,
    ),
    outputs=(
        Output("draught", "Pa", places=2),
        Output("draught_rule", "Pa", places=2),
        Output("rule_difference", "Pa", places=2),
        Output("flue_density", "kg/m**3", places=4),
        Output("outside_density", "kg/m**3", places=4),
        Output("flue_molar_mass", "kg/kmol", places=3),
        Output("air_ratio", "", places=3),
    ),
    sources=(
        Cite("fluid_mechanics", "columns of two densities"),
        Cite("iso_6976", "molar masses and dry air"),
    ),
    uses=(
        *FUEL_USES,
        "water_saturation",
        PRESSURE,
        NEEDED,
        "combustion.air_argon",
        "combustion.air_oxygen_instrument",
        "air.density",
        "reference_state.temperature",
        "air.argon_molar_mass",
        "flue.draught_constant",
        "physics.gravity",
        "physics.molar_gas_constant",
    ),
    judge=judge,
    verdicts=("pull", "needed"),
    notes=("wet_flue",),
    rulings=("still", "down", "up"),
    refusals=(*MIXTURE_REFUSALS, *SAMPLE_REFUSALS, *FIT_REFUSALS),
)
