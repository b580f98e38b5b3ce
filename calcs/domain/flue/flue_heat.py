"""Heat balance of a burner: heat in the gas, in the flue gas, in the water that condenses."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from calcs.domain.flue.flue_gas import (
    GASES,
    FlueGas,
    dew_point,
    saturation,
    saturation_pressure,
    saturation_temperature,
)
from calcs.domain.gas.gas_mixture import COMPONENTS_TABLE, Mixture, components, plain, weighted
from calcs.engine.in_force import InForce
from calcs.engine.traced import named, si
from calcs.engine.traced_functions import apply, of_si
from calcs.engine.units import Q, Quantity

Plain = Callable[..., float]  # a function of plain SI numbers


def molar_heats(mixture: Mixture, ref: InForce) -> tuple[Q, Q]:
    """Heat of combustion of a mole of gas, gross and net, at the reference temperature."""
    gross = weighted("share × gross heat", mixture, lambda one: one.heat_gross, "kJ/mol")
    water = weighted("share × hydrogen ÷ 2", mixture, lambda one: one.atoms[1] / 2, "")
    latent = of_si(components(ref)["water"].heat_gross, "kJ/mol")
    label = "Heat of condensing at the reference temperature"
    return gross, gross - water * named(latent, "latent", label, role="figure")


def heat_balance(
    gas: FlueGas, temperatures: tuple[Q, Q], heats: tuple[Q, Q], pressure: Q, ref: InForce
) -> dict[str, Q | None]:
    """Where the heat of a mole of gas goes: into the flue gas, or not.

    Args:
        gas: Flue gas of a mole of gas.
        temperatures: Of the flue gas and of the air, in kelvin.
        heats: Heat of a mole, gross and net.
        pressure: Of the air, absolute.
        ref: Tables of heat and of saturation.
    """
    flue, air = temperatures
    gross, net = heats
    flue_heat = sensible_heat(gas, flue, air, ref)
    water_condensed = condensed(gas, flue, pressure, ref)
    heat_of_condensing = latent_heat(flue, ref)
    heat_recovered = water_condensed * heat_of_condensing
    carried = flue_heat - heat_recovered
    loss_net = (carried / net).to("percent")
    loss_gross = ((carried + gross - net) / gross).to("percent")
    water_mass = of_si(components(ref)["water"].molar_mass, "g/mol")
    named_mass = named(water_mass, "water_mass", "Molar mass of water", role="figure")
    return {
        "flue_heat": flue_heat,
        "water_condensed": water_condensed,
        "heat_of_condensing": heat_of_condensing,
        "heat_recovered": heat_recovered,
        "dew_point": dew_point(gas, pressure, ref),
        "loss_net": loss_net,
        "loss_gross": loss_gross,
        "efficiency_net": (1 - loss_net).to("percent"),
        "efficiency_gross": (1 - loss_gross).to("percent"),
        "condensate": (water_condensed * named_mass / net).to("g/kWh"),
    }


def latent_heat(temperature: Q, ref: InForce) -> Q:
    """Heat that a mole of water gives up as it condenses, on the line of the two table figures."""
    return apply("heat of condensing at", _latent(ref), temperature, unit="kJ/mol")


def _latent(ref: InForce) -> Plain:
    water = next(row for row in ref.rows(COMPONENTS_TABLE) if row["component"] == "water")
    warm, cool = plain(water["heat_gross_25"]), plain(water["heat_gross_15"])

    def heat(kelvin: float) -> float:
        return cool + (warm - cool) * (kelvin - _COOL) / (_WARM - _COOL)

    return heat


# The temperatures in the names of the table's columns, heat_gross_15 and heat_gross_25.
_COOL, _WARM = 288.15, 298.15


def condensed(gas: FlueGas, temperature: Q, pressure: Q, ref: InForce) -> Q:
    """Water that has condensed when the flue gas leaves, for each mole of gas burnt."""
    name = "water above saturation"
    return apply(name, _condensed(ref), gas.water, gas.dry, temperature, pressure)


def _condensed(ref: InForce) -> Plain:
    coefficients = saturation(ref)

    def water(steam: float, dry: float, kelvin: float, total: float) -> float:
        # From the boiling point on, no dry gas is needed to carry the vapour.
        if kelvin >= saturation_temperature(coefficients, total):
            return 0.0
        vapour = saturation_pressure(coefficients, kelvin)
        return max(0.0, steam - dry * vapour / (total - vapour))

    return water


def sensible_heat(gas: FlueGas, hot: Q, cold: Q, ref: InForce) -> Q:
    """Heat that the flue gas carries above a cold temperature, all its water as vapour."""
    name = "heat of the flue gas above the air"
    return apply(name, _sensible(ref), *gas.amounts, hot, cold, unit="kJ/mol")


def _sensible(ref: InForce) -> Plain:
    series = _series(ref)
    constant = si(ref["physics.molar_gas_constant"])

    def heat(*values: float) -> float:
        *amounts, above, below = values
        molar = (_enthalpy(one, above) - _enthalpy(one, below) for one in series)
        return constant * math.fsum(n * h for n, h in zip(amounts, molar, strict=True))

    return heat


def efficiency_by_temperature(
    answers: Mapping[str, Q], air: Q, pressure: Q, ref: InForce
) -> list[tuple[float, float, float]]:
    """Flue temperature with net and gross efficiency, all else as it was answered.

    Args:
        answers: Amounts and heats by the names under which the working shows them.
        air: Temperature of the air. [degC]
        pressure: Of the air, absolute. [mbar]
        ref: Tables of heat and of saturation.

    Returns:
        Degrees Celsius, percent and percent, from cold to hot.
    """
    latent, condensing, sensible = _latent(ref), _condensed(ref), _sensible(ref)
    dry, wet = si(answers["dry_flue_gas"]), si(answers["wet_flue_gas"])
    names = ("carbon_formed", None, "oxygen_left", "nitrogen_left", "argon_left")
    amounts = [wet - dry if name is None else si(answers[name]) for name in names]
    gross, net = si(answers["molar_heat_gross"]), si(answers["molar_heat_net"])
    cold, total = si(air), si(pressure)
    found = []
    for degrees in _SHOWN:
        kelvin = si(Quantity(degrees, "degC"))
        if kelvin <= cold:
            continue
        water = condensing(wet - dry, dry, kelvin, total)
        carried = sensible(*amounts, kelvin, cold) - water * latent(kelvin)
        gained = net - carried
        found.append((degrees, 100 * gained / net, 100 * gained / gross))
    return found


# Flue temperatures of the table, in degrees Celsius: closer where water condenses.
_SHOWN = (25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 80.0, 100.0, 120.0, 150.0, 200.0)


def _series(ref: InForce) -> list[tuple[float, ...]]:
    rows = {row["component"]: row for row in ref.rows("gas_enthalpies")}
    columns = ("constant", "linear", "square", "cube", "fourth")
    return [tuple(plain(rows[gas][column]) for column in columns) for gas in GASES]


def _enthalpy(series: Sequence[float], kelvin: float) -> float:
    """Enthalpy over the gas constant: the heat capacity's power series, integrated."""
    a, b, c, d, e = series
    power = e / 5 * kelvin + d / 4
    return (((power * kelvin + c / 3) * kelvin + b / 2) * kelvin + a) * kelvin
