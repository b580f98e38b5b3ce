"""Combustion efficiency: flue loss by rules and by heat balance, condensing and dew point."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.charts.combustion_efficiency import BY_FLUE_TEMPERATURE, efficiency_chart
from calcs.domain.flue.condensing import CONDENSING_NOTES, condensing_notes
from calcs.domain.flue.flue_fit import FIT_REFUSALS, check_sample
from calcs.domain.flue.flue_gas import damp_of_air, flue_gas
from calcs.domain.flue.flue_heat import efficiency_by_temperature, heat_balance, molar_heats
from calcs.domain.flue.flue_loss import (
    as_analysers_show,
    dry_loss_constants,
    loss_by_constants,
    siegert,
)
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
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Cite,
    Input,
    Instrument,
    Output,
    TableShape,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import Cell, Finding, Table
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.units import Q

PRESSURE = "reference_state.pressure"


def combustion_efficiency(
    *,
    fuel: str,
    basis: str | None = None,
    components: tuple[Mapping[str, Any], ...] | None = None,
    flue_temperature: Q,
    air_temperature: Q,
    oxygen: Q | None = None,
    carbon_dioxide: Q | None = None,
    air_humidity: Q | None = None,
    pressure: Q,
    heat_input_net: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """Share of the heat in the gas that does not leave in the flue gas.

    Args:
        fuel: Gas that burns, or "mixture".
        basis: "mole" or "volume", for the shares of a mixture.
        components: Rows of component and share. [percent]
        flue_temperature: Flue gas as it leaves. [degC]
        air_temperature: Air that the burner takes in. [degC]
        oxygen: Read in the dry flue gas. [percent]
        carbon_dioxide: The same. [percent]
        air_humidity: Relative humidity of that air; None counts it as dry. [percent]
        pressure: Pressure of the air, absolute. [mbar]
        heat_input_net: Heat input, net; None leaves out the flow of condensate. [kW]
        ref: Uses the tables of gases, of their heat and of saturation, and the rules' constants.

    Returns:
        carbon_formed: Carbon dioxide from one part of gas, by amount.
        water_formed: Water from one part of gas.
        nitrogen_held: Nitrogen that one part of gas held.
        others_held: Noble gas that one part of gas held; None for none.
        oxygen_need: Oxygen that burns one part of gas.
        air_need: Dry air that burns one part of gas.
        dry_products: Dry flue gas from one part of gas with no spare air.
        carbon_dioxide_max: Greatest carbon dioxide of the fuel. [percent]
        air_ratio: Air over the air needed, exact for the fuel.
        damp: Water vapour for each part of dry air.
        oxygen_left: Oxygen that is left over.
        argon_left: Argon from the air.
        nitrogen_left: Nitrogen from the air and from the gas.
        dry_flue_gas: All of the dry flue gas from one part of gas.
        wet_flue_gas: The same with its water.
        temperature_rise: Flue gas above the air. [K]
        molar_heat_gross: Heat of a mole of gas, gross. [kJ/mol]
        molar_heat_net: The same, net. [kJ/mol]
        flue_heat: Heat that the flue gas carries above the air, its water as vapour. [kJ/mol]
        water_condensed: Water that has condensed, for one part of gas.
        heat_of_condensing: Heat that a mole of water gives up as it condenses. [kJ/mol]
        heat_recovered: Heat that the condensed water has given up. [kJ/mol]
        dew_point: Temperature below which the flue gas begins to condense. [degC]
        loss_net: Flue loss by heat balance, net. [percent]
        loss_gross: The same, gross. [percent]
        efficiency_net: What is left of the net heat. [percent]
        efficiency_gross: What is left of the gross heat. [percent]
        condensate: Water condensed for the net heat of the gas. [g/kWh]
        condensate_flow: The same for the heat input. [kg/h]
        loss_siegert: Net flue loss by Siegert's rule, air with 21 parts of oxygen. [percent]
        loss_siegert_instrument: The same, air as analysers have it. [percent]
        loss_siegert_dioxide: The same from carbon dioxide. [percent]
        molar_mass: Mass of a mole of gas. [kg/kmol]
        carbon_share: Carbon in the gas, by mass. [percent]
        mass_heat_gross: Heat in a mass of gas, gross. [kJ/kg]
        mass_heat_net: The same, net. [kJ/kg]
        k1_gross: Constant of the dry loss, gross. [percent**2/K]
        k1_net: The same, net. [percent**2/K]
        loss_dry_net: Dry loss by that constant, net. [percent]
        loss_dry_gross: The same, gross. [percent]
        loss_wet: Wet loss by the rule, gross. [percent]
        efficiency_gross_rule: What the rule leaves of the gross heat. [percent]

    Raises:
        Missing: Neither oxygen nor carbon dioxide was read.
        Impossible: The flue gas is no warmer than the air, the sample can't be
            told from air, or its oxygen and carbon dioxide contradict each other.

    Not covered: heat lost through the casing, unburnt gas, and the electricity that it uses.

    >>> from calcs.engine.units import Quantity
    >>> combustion_efficiency(  # doctest: +ELLIPSIS
    ...     fuel="G20",
    ...     flue_temperature=Quantity(20, "degC"),
    ...     air_temperature=Quantity(20, "degC"),
    ...     pressure=Quantity(1, "bar"),
    ...     ref=None,
    ... )
    Traceback (most recent call last):
    calcs.engine.errors.Impossible: ('flue_temperature', ...)
    """
    if flue_temperature <= air_temperature:
        raise Impossible("flue_temperature", "probes_swapped")
    mixture = mixture_of(ref, fuel, components, basis)
    burning = burn(mixture, ref)
    check_sample(burning, fuel, oxygen, carbon_dioxide, ref)
    ratio = air_ratio(burning, oxygen, carbon_dioxide, ref)
    flue, air = flue_temperature.to("kelvin"), air_temperature.to("kelvin")
    damp = None if air_humidity is None else damp_of_air(air, air_humidity, pressure, ref)
    gas = flue_gas(burning, ratio, ref, damp)
    heats = molar_heats(mixture, ref)
    rise = flue - air
    balance = heat_balance(gas, (flue, air), heats, pressure, ref)
    flow = None if heat_input_net is None else heat_input_net * balance["condensate"]
    constants = dry_loss_constants(mixture, heats, ref)
    dioxide = burning.carbon_dioxide / gas.dry if carbon_dioxide is None else carbon_dioxide
    return {
        **burning.steps,
        "air_ratio": ratio,
        "damp": damp,
        **gas.steps,
        "temperature_rise": rise,
        "molar_heat_gross": heats[0],
        "molar_heat_net": heats[1],
        **balance,
        "condensate_flow": None if flow is None else flow.to("kg/h"),
        **siegert(fuel=fuel, rise=rise, oxygen=oxygen, carbon_dioxide=carbon_dioxide, ref=ref),
        **as_analysers_show(fuel=fuel, rise=rise, oxygen=oxygen, ref=ref),
        **constants,
        **loss_by_constants(constants, fuel=fuel, rise=rise, carbon_dioxide=dioxide, ref=ref),
    }


def judge(
    *,
    given: Mapping[str, Any],
    answers: Mapping[str, Q],
    ref: InForce,
) -> list[Finding]:
    """Whether the flue gas condenses, and what it would be at other temperatures.

    Raises:
        Impossible: The flue gas would carry away more heat than the gas gives.
    """
    check_shares(given)
    if si(answers["loss_net"]) > 1:
        field = "carbon_dioxide" if given["oxygen"] is None else "oxygen"
        raise Impossible(field, "more_heat_than_the_gas")
    curve = efficiency_by_temperature(answers, given["air_temperature"], given["pressure"], ref)
    columns = ("at_temperature", "at_net", "at_gross")
    rows: tuple[Mapping[str, Cell], ...] = tuple(
        dict(zip(columns, row, strict=True)) for row in curve
    )
    return [
        *condensing_notes(given["flue_temperature"], answers),
        Table("by_temperature", rows),
        efficiency_chart(given, answers, curve),
    ]


CALCULATOR = Calculator(
    formula=combustion_efficiency,
    inputs=(
        *FUEL_INPUTS,
        Input("flue_temperature", "degC", low=0, high=600, also=("degF",), read_with="probe"),
        Input("air_temperature", "degC", low=-20, high=60, also=("degF",), read_with="probe"),
        *SAMPLE,
        Input("air_humidity", "percent", low=0, high=100, optional=True, uncertainty=WRITTEN),
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
            "heat_input_net",
            "kW",
            low=0.5,
            high=5000,
            also=("Btu/h",),
            optional=True,
            uncertainty=STATED,
        ),
        Instrument("probe", "flue_temperature", "delta_degC", "analyser_temperature", 50),
        *SAMPLE_CELLS,
    ),
    outputs=(
        Output("efficiency_net", "percent", places=1),
        Output("efficiency_gross", "percent", places=1),
        Output("loss_net", "percent", places=2),
        Output("loss_gross", "percent", places=2),
        Output("dew_point", "degC", places=1),
        Output("condensate", "g/kWh", places=1),
        Output("condensate_flow", "kg/h", places=2),
        Output("loss_siegert", "percent", places=2),
        Output("loss_siegert_instrument", "percent", places=2),
        Output("loss_siegert_dioxide", "percent", places=2),
        Output("k1_net", "percent**2/K", places=3),
        Output("k1_gross", "percent**2/K", places=3),
        Output("efficiency_gross_rule", "percent", places=1),
    ),
    sources=(
        Cite("analyser_manual", "flue loss by oxygen and the constant K1"),
        Cite("bs_845", "dry and wet loss"),
        Cite("nasa_polynomials", "heat of the flue gas"),
        Cite("iapws", "IF97, equations 30 and 31: saturation"),
        Cite("iso_6976", "heat of combustion"),
    ),
    uses=(
        *FUEL_USES,
        "gas_enthalpies",
        "water_saturation",
        PRESSURE,
        "combustion.air_argon",
        "combustion.air_oxygen_instrument",
        "combustion.air_oxygen_siegert",
        "combustion.siegert_a1.*",
        "combustion.siegert_a2.*",
        "combustion.siegert_b.*",
        "combustion.bs_845_factor",
        "combustion.k3.*",
        "combustion.wet_loss_slope",
        "physics.molar_gas_constant",
    ),
    judge=judge,
    notes=CONDENSING_NOTES,
    refusals=(
        "probes_swapped",
        "more_heat_than_the_gas",
        *MIXTURE_REFUSALS,
        *SAMPLE_REFUSALS,
        *FIT_REFUSALS,
    ),
    tables=(
        TableShape(
            "by_temperature",
            (
                Output("at_temperature", "degC", 0),
                Output("at_net", "percent", 1),
                Output("at_gross", "percent", 1),
            ),
        ),
    ),
    charts=(BY_FLUE_TEMPERATURE,),
)
