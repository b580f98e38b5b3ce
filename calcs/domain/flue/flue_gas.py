"""Flue gas: its make-up, its heat, its weight and the water that condenses from it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calcs.domain.gas.gas_mixture import plain
from calcs.domain.gas.stoichiometry import AIR_ARGON, AIR_OXYGEN, Burning
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.traced_functions import apply
from calcs.engine.units import Q

GASES = ("carbon_dioxide", "water", "oxygen", "nitrogen", "argon")
Saturation = tuple[float, ...]
_FREEZING = 273.15


@dataclass(frozen=True)
class FlueGas:
    """Amounts for each mole of gas burnt.

    Args:
        carbon_dioxide: From the gas.
        water: From the gas and from the damp in the air.
        oxygen: Left over from the spare air.
        nitrogen: From the air and from the gas.
        argon: From the air, with the noble gas that the gas held.
        dry: All but the water.
        wet: All.
    """

    carbon_dioxide: Q
    water: Q
    oxygen: Q
    nitrogen: Q
    argon: Q
    dry: Q
    wet: Q

    @property
    def amounts(self) -> tuple[Q, ...]:
        """In the order of `GASES`."""
        return self.carbon_dioxide, self.water, self.oxygen, self.nitrogen, self.argon

    @property
    def steps(self) -> dict[str, Q | None]:
        """The amounts by the names under which the working shows them."""
        return {
            "oxygen_left": self.oxygen,
            "argon_left": self.argon,
            "nitrogen_left": self.nitrogen,
            "dry_flue_gas": self.dry,
            "wet_flue_gas": self.wet,
        }


def flue_gas(burning: Burning, air_ratio: Q, ref: InForce, damp: Q | None = None) -> FlueGas:
    """What leaves when gas burns completely with that much air.

    Args:
        burning: What the gas needs and leaves.
        air_ratio: Air over the air needed.
        ref: Uses the make-up of dry air.
        damp: Water vapour for each mole of dry air.
    """
    air = air_ratio * burning.air_need
    water = burning.water if damp is None else burning.water + air * damp
    oxygen = (air_ratio - 1) * burning.oxygen_need
    argon = (air * ref[AIR_ARGON]).to("")
    if burning.others is not None:
        argon = argon + burning.others
    nitrogen = burning.nitrogen + (air * (1 - ref[AIR_OXYGEN] - ref[AIR_ARGON])).to("")
    dry = burning.carbon_dioxide + oxygen + nitrogen + argon
    return FlueGas(burning.carbon_dioxide, water, oxygen, nitrogen, argon, dry, dry + water)


def saturation(ref: InForce) -> Saturation:
    """Coefficients n1 to n10 of the saturation equation of water."""
    return tuple(plain(row["value"]) for row in ref.rows("water_saturation"))


def saturation_pressure(coefficients: Saturation, temperature: float) -> float:
    """Pressure of water vapour over water, in pascals, at a temperature in kelvin.

    IAPWS-IF97, equation 30: only products and one root, so that every machine gives one answer.
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = coefficients
    shifted = temperature + n9 / (temperature - n10)
    a = (shifted + n1) * shifted + n2
    b = (n3 * shifted + n4) * shifted + n5
    c = (n6 * shifted + n7) * shifted + n8
    root = 2 * c / (-b + math.sqrt(b * b - 4 * a * c))
    return root * root * root * root * 1e6


def saturation_temperature(coefficients: Saturation, pressure: float) -> float:
    """Temperature in kelvin at which water vapour of a pressure in pascals begins to condense.

    IAPWS-IF97, equation 31.
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = coefficients
    beta = math.sqrt(math.sqrt(pressure / 1e6))
    e = (beta + n3) * beta + n6
    f = (n1 * beta + n4) * beta + n7
    g = (n2 * beta + n5) * beta + n8
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    return (n10 + d - math.sqrt((n10 + d) * (n10 + d) - 4 * (n9 + n10 * d))) / 2


def damp_of_air(temperature: Q, humidity: Q, pressure: Q, ref: InForce) -> Q:
    """Water vapour for each mole of dry air, from the relative humidity."""
    coefficients = saturation(ref)

    def ratio(kelvin: float, share: float, total: float) -> float:
        vapour = share * saturation_pressure(coefficients, kelvin)
        return vapour / (total - vapour)

    return apply("water vapour in the air", ratio, temperature, humidity, pressure)


def dew_point(gas: FlueGas, pressure: Q, ref: InForce) -> Q | None:
    """Temperature below which the water in the flue gas begins to condense; None below freezing."""
    coefficients = saturation(ref)
    vapour = si(gas.water) / si(gas.wet) * si(pressure)
    if vapour < saturation_pressure(coefficients, _FREEZING):
        return None  # the equation ends there, and so does water

    def temperature(water: float, wet: float, total: float) -> float:
        return saturation_temperature(coefficients, water / wet * total)

    name = "dew point of the water vapour's part of the pressure"
    return apply(name, temperature, gas.water, gas.wet, pressure, unit="kelvin").to("degC")


def molar_mass(gas: FlueGas, ref: InForce) -> Q:
    """Mass of a mole of the wet flue gas."""
    rows = {row["component"]: row["molar_mass"] for row in ref.rows("gas_components")}
    masses = [
        si(ref["air.argon_molar_mass"]) if name == "argon" else plain(rows[name]) for name in GASES
    ]

    def mass(*amounts: float) -> float:
        return math.fsum(n * m for n, m in zip(amounts, masses, strict=True)) / math.fsum(amounts)

    return apply("mass of a mole of the wet flue gas", mass, *gas.amounts, unit="kg/kmol")
