"""Gas properties: calorific values, density, Wobbe index and air need of a gas by ISO 6976."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.calorific_value import heat_in_volume
from calcs.domain.gas.gas_mixture import (
    COMPONENTS,
    Mixture,
    are_fractions,
    components,
    held_mixture,
    typed_mixture,
)
from calcs.domain.gas.iso_6976 import properties
from calcs.domain.gas.stoichiometry import FUEL_USES, MIXTURE_REFUSALS, TEST_GASES
from calcs.engine.declarations import (
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Output,
    Rows,
    TableShape,
    When,
)
from calcs.engine.findings import Cell, Compare, Finding, Note, Ruling, Table
from calcs.engine.in_force import InForce
from calcs.engine.units import Q, Quantity


def gas_properties(
    *,
    source: str,
    test_gas: str | None = None,
    components: tuple[Mapping[str, Any], ...] | None = None,
    basis: str | None = None,
    reference: str | None = None,
    stated_wobbe_gross: Q | None = None,
    stated_relative_density: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """Properties of a gas from what it is made of.

    Args:
        source: "test_gas", "mixture" or "figures".
        test_gas: Name of a test gas.
        components: Rows of component, share and the share's standard uncertainty. [percent]
        basis: "mole" or "volume", for the shares.
        reference: Temperatures of combustion and of metering, such as "burnt_15_metered_15".
        stated_wobbe_gross: Wobbe index where only that is known. [MJ/m**3]
        stated_relative_density: Relative density where only that is known.
        ref: Uses the tables of components, test gases and dry air.

    Returns:
        molar_mass: Mass of a mole. [kg/kmol]
        summation: Summation factor of the mixture.
        compression_factor: Volume of the gas over that of an ideal gas.
        molar_heat_gross: Heat of combustion of a mole, gross. [kJ/mol]
        molar_heat_net: The same, net. [kJ/mol]
        molar_volume: Volume of a mole. [m**3/kmol]
        calorific_value_gross: Heat in a volume of gas, gross. [MJ/m**3]
        calorific_value_net: The same, net. [MJ/m**3]
        mass_heat_gross: Heat in a mass of gas, gross. [MJ/kg]
        mass_heat_net: The same, net. [MJ/kg]
        gross_to_net: Gross over net.
        density: Mass of a volume of gas. [kg/m**3]
        relative_density: Density over that of dry air.
        wobbe_gross: Calorific value over the root of the relative density, gross. [MJ/m**3]
        wobbe_net: The same, net. [MJ/m**3]
        air_need: Dry air that burns one part of gas, by amount.
        dry_products: Dry flue gas from one part of gas, by amount.
        carbon_dioxide_max: Carbon dioxide in the dry flue gas with no spare air. [percent]

    Raises:
        Impossible: A component stands twice, the shares are no whole, or nothing burns.

    Not covered: water that the gas holds as droplets, components that the table lacks, and
    pressures other than that of the reference state.

    >>> from calcs.engine.worked_example import in_force
    >>> ref = in_force({"network_gas.wobbe_low": "46.5 MJ/m³"})
    >>> gas = gas_properties(source="figures", stated_wobbe_gross=Quantity(50, "MJ/m**3"), ref=ref)
    >>> gas["wobbe_gross"].magnitude
    50
    """
    if source == "figures":
        return {
            "wobbe_gross": stated_wobbe_gross,
            "relative_density": stated_relative_density,
        }
    at = temperatures(reference or "")
    asked = {"source": source, "test_gas": test_gas, "components": components, "basis": basis}
    return properties(_mixture(asked, at, ref), at, ref)


def temperatures(reference: str) -> tuple[int, int]:
    """Temperatures of combustion and of metering in the name of a reference state.

    >>> temperatures("burnt_25_metered_0")
    (25, 0)
    """
    _, combustion, _, metering = reference.split("_")
    return int(combustion), int(metering)


def _mixture(asked: Mapping[str, Any], at: tuple[int, int], ref: InForce) -> Mixture:
    names = [row["component"] for row in asked["components"] or ()]
    known = components(ref, names, combustion=at[0], metering=at[1], uncertainties=True)
    if asked["source"] == "test_gas":
        return held_mixture(known, asked["test_gas"], ref)
    return typed_mixture(known, asked["components"], asked["basis"], ref)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """The gas against the limits of the network on the day, and its make-up by amount."""
    findings: list[Finding] = []
    if given["use"] == "network":
        findings += _network(given, answers, ref)
    if given["source"] == "figures":
        return findings
    if given["source"] == "mixture":
        total = math.fsum(row["share"].to("percent").magnitude for row in given["components"])
        if are_fractions(given["components"], ref):
            findings.append(Note("fractions"))
            total = 100 * total
        if abs(total - 100) > 1e-6:
            findings.append(Note("made_whole", {"total": f"{total:.3f} %"}))
    mixture = _mixture(given, (15, 15), ref)
    rows: tuple[Mapping[str, Cell], ...] = tuple(
        {"name": component.title, "mole_share": float(share.magnitude) * 100}
        for component, share in mixture
    )
    return [*findings, Table("composition", rows)]


def _network(given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    if given["source"] != "figures" and given["reference"] != AT_NETWORK:
        return [Ruling("network_wobbe", "not_judged", "other_reference", (WOBBE_LOW,))]
    low, high = ref[WOBBE_LOW], ref[WOBBE_HIGH]
    wobbe = answers["wobbe_gross"]
    findings: list[Finding] = [
        Compare("network_wobbe", wobbe, low, high, (WOBBE_LOW, WOBBE_HIGH), "MJ/m**3", 2)
    ]
    if (density := answers.get("relative_density")) is not None and ref.held(DENSITY):
        findings.append(Compare("network_density", density, None, ref[DENSITY], (DENSITY,), "", 3))
    if given["source"] != "figures":
        shares = {component.name: share for component, share in _mixture(given, (15, 15), ref)}
        for name, figure in (("oxygen", OXYGEN), ("hydrogen", HYDROGEN)):
            share = shares[name].to("percent") if name in shares else Quantity(0.0, "percent")
            findings.append(
                Compare(f"network_{name}", share, None, ref[figure], (figure,), "percent", 2)
            )
    return findings


WOBBE_LOW, WOBBE_HIGH = "network_gas.wobbe_low", "network_gas.wobbe_high"
DENSITY = "network_gas.relative_density_high"
OXYGEN, HYDROGEN = "network_gas.oxygen_high", "network_gas.hydrogen_high"
AT_NETWORK = "burnt_15_metered_15"
REFERENCES = (
    AT_NETWORK, "burnt_25_metered_0", "burnt_25_metered_15", "burnt_25_metered_20",
    "burnt_20_metered_20", "burnt_20_metered_0", "burnt_15_metered_0", "burnt_0_metered_0",
)  # fmt: skip
BY_NAME, BY_ROWS, BY_FIGURES = (When("source", (w,)) for w in ("test_gas", "mixture", "figures"))
COMPUTED = When("source", ("test_gas", "mixture"))

CALCULATOR = Calculator(
    formula=gas_properties,
    inputs=(
        Choice("source", ("test_gas", "mixture", "figures"), default="test_gas"),
        Choice("test_gas", TEST_GASES, default="G20", when=BY_NAME),
        Choice("basis", ("mole", "volume"), default="mole", when=BY_ROWS),
        Rows(
            "components",
            (
                Choice("component", COMPONENTS),
                Input("share", "percent", low=0, high=100, also=("ppm",), uncertainty=STATED),
                Input(
                    "share_uncertainty",
                    "percent",
                    low=0,
                    high=10,
                    also=("ppm",),
                    optional=True,
                    uncertainty=STATED,
                ),
            ),
            low=1,
            high=len(COMPONENTS),
            when=BY_ROWS,
        ),
        Choice("reference", REFERENCES, default=AT_NETWORK, when=COMPUTED),
        heat_in_volume("stated_wobbe_gross", low=5, when=BY_FIGURES),
        Input(
            "stated_relative_density",
            "",
            low=0.05,
            high=4,
            optional=True,
            when=BY_FIGURES,
            uncertainty=STATED,
        ),
        Choice("use", ("any", "network"), default="any"),
    ),
    outputs=(
        Output("calorific_value_gross", "MJ/m**3", places=2),
        Output("calorific_value_net", "MJ/m**3", places=2),
        Output("wobbe_gross", "MJ/m**3", places=2),
        Output("wobbe_net", "MJ/m**3", places=2),
        Output("relative_density", "", places=4),
        Output("density", "kg/m**3", places=4),
        Output("gross_to_net", "", places=4),
        Output("mass_heat_gross", "MJ/kg", places=3),
        Output("mass_heat_net", "MJ/kg", places=3),
        Output("molar_heat_gross", "kJ/mol", places=2),
        Output("molar_heat_net", "kJ/mol", places=2),
        Output("molar_mass", "kg/kmol", places=4),
        Output("compression_factor", "", places=6),
        Output("air_need", "", places=3),
        Output("carbon_dioxide_max", "percent", places=2),
    ),
    sources=(
        Cite("iso_6976", "clauses 6 to 10 and Annex B"),
        Cite("en_437", "test gases by volume"),
    ),
    uses=(
        *FUEL_USES,
        "gas_components_more",
        "atomic_masses",
        "air.molar_mass",
        "air.molar_mass_uncertainty",
        "air.compression_factor.*",
        "air.compression_factor_uncertainty",
        "physics.molar_gas_constant",
        "physics.molar_gas_constant_uncertainty",
        "reference_state.pressure",
        WOBBE_LOW,
        WOBBE_HIGH,
        DENSITY,
        OXYGEN,
        HYDROGEN,
    ),
    judge=judge,
    verdicts=("network_wobbe", "network_density", "network_oxygen", "network_hydrogen"),
    notes=("fractions", "made_whole"),
    rulings=("other_reference",),
    refusals=(*MIXTURE_REFUSALS,),
    tables=(
        TableShape("composition", (Output("name", "", 0), Output("mole_share", "percent", 4))),
    ),
)
