"""The sums of ISO 6976:2016 from the shares of a gas, each with the uncertainty of its tables."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.domain.gas.gas_mixture import (
    Mixture,
    components,
    uncertainty_of_mass,
    uncertainty_of_sum,
    weighted,
)
from calcs.domain.gas.stoichiometry import burn
from calcs.engine.in_force import InForce
from calcs.engine.traced import Traced, named, si
from calcs.engine.traced_functions import of_si, square_root
from calcs.engine.units import Q, Quantity

AIR_AT = {0: "zero", 15: "fifteen", 20: "twenty"}  # air.compression_factor.<word>


def properties(mixture: Mixture, at: tuple[int, int], ref: InForce) -> dict[str, Q | None]:
    """Every property of a mixture, in the order of ISO 6976:2016, clauses 6 to 10.

    Args:
        mixture: Shares by amount, with figures at the temperatures `at`.
        at: Temperatures of combustion and of metering, in degrees Celsius.
        ref: The tables of components and of dry air.
    """
    burning = burn(mixture, ref)
    by_mole = _by_mole(mixture, at, ref)
    return {
        **by_mole,
        **_by_volume(by_mole, at, ref),
        "air_need": burning.air_need,
        "dry_products": burning.dry_products,
        "carbon_dioxide_max": burning.carbon_dioxide_max,
    }


def _by_mole(mixture: Mixture, at: tuple[int, int], ref: InForce) -> dict[str, Q]:
    molar_mass = weighted(
        "share × molar mass", mixture, lambda one: one.molar_mass, "kg/kmol",
        uncertainty_of_mass(mixture, ref),
    )  # fmt: skip
    summation = weighted(
        "share × summation factor", mixture, lambda one: one.summation, "",
        uncertainty_of_sum("doubt of the factors", mixture, lambda o: o.summation_uncertainty, ""),
    )  # fmt: skip
    molar_heat_gross = weighted(
        "share × gross heat", mixture, lambda one: one.heat_gross, "kJ/mol",
        uncertainty_of_sum("doubt of the heats", mixture, lambda o: o.heat_uncertainty, "J/mol"),
    )  # fmt: skip
    molar_heat_net = molar_heat_gross - _latent_heat(mixture, at, ref)
    return {
        "molar_mass": molar_mass,
        "summation": summation,
        "compression_factor": 1 - summation * summation,
        "molar_heat_gross": molar_heat_gross,
        "molar_heat_net": molar_heat_net,
        "mass_heat_gross": (molar_heat_gross / molar_mass).to("MJ/kg"),
        "mass_heat_net": (molar_heat_net / molar_mass).to("MJ/kg"),
        "gross_to_net": (molar_heat_gross / molar_heat_net).to(""),
    }


def _by_volume(by_mole: Mapping[str, Q], at: tuple[int, int], ref: InForce) -> dict[str, Q]:
    compression_factor, molar_mass = by_mole["compression_factor"], by_mole["molar_mass"]
    molar_volume = compression_factor * _ideal_volume(at[1], ref)
    air_mass = _with_uncertainty(ref["air.molar_mass"], ref["air.molar_mass_uncertainty"])
    air_factor = _with_uncertainty(
        ref[f"air.compression_factor.{AIR_AT[at[1]]}"], ref["air.compression_factor_uncertainty"]
    )
    relative_density = (molar_mass / air_mass * air_factor / compression_factor).to("")
    gross = (by_mole["molar_heat_gross"] / molar_volume).to("MJ/m**3")
    net = (by_mole["molar_heat_net"] / molar_volume).to("MJ/m**3")
    root = square_root(relative_density)
    return {
        "molar_volume": molar_volume,
        "calorific_value_gross": gross,
        "calorific_value_net": net,
        "density": (molar_mass / molar_volume).to("kg/m**3"),
        "relative_density": relative_density,
        "wobbe_gross": (gross / root).to("MJ/m**3"),
        "wobbe_net": (net / root).to("MJ/m**3"),
    }


def _latent_heat(mixture: Mixture, at: tuple[int, int], ref: InForce) -> Q:
    """Heat that the water of a mole's combustion gives up when it condenses."""
    water = components(ref, combustion=at[0], metering=at[1], uncertainties=True)["water"]
    molecules = weighted("share × hydrogen ÷ 2", mixture, lambda one: one.atoms[1] / 2, "")
    latent = named(of_si(water.heat_gross, "kJ/mol"), "latent", "Heat of condensing")
    return molecules * _with_uncertainty(latent, Quantity(water.heat_uncertainty, "J/mol"))


def _ideal_volume(metering: int, ref: InForce) -> Q:
    constant = _with_uncertainty(
        ref["physics.molar_gas_constant"], ref["physics.molar_gas_constant_uncertainty"]
    )
    kelvin = of_si(si(Quantity(float(metering), "degC")), "kelvin")
    temperature = named(kelvin, "metering_temperature", "Temperature of metering", role="figure")
    return (constant * temperature / ref["reference_state.pressure"]).to("m**3/kmol")


def _with_uncertainty(value: Traced, standard_uncertainty: Q) -> Traced:
    value.standard_uncertainty = Quantity(
        standard_uncertainty.magnitude, standard_uncertainty.units
    )
    return value
