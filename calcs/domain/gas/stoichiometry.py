"""What a gas needs to burn and what it leaves, by amount, for complete combustion in dry air."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calcs.domain.gas.gas_mixture import (
    COMPONENTS,
    MIXTURE_TABLES,
    REFUSALS,
    Component,
    Mixture,
    components,
    held_mixture,
    typed_mixture,
    weighted,
)
from calcs.engine.declarations import STATED, Choice, Input, Rows, When
from calcs.engine.errors import Impossible
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up
from calcs.engine.units import Q, join_unit

GASES = ("natural_gas", "propane", "butane")
# Those that an analyser takes for natural gas, the works gases with half of hydrogen, and LPG.
LIKE_NATURAL_GAS = ("G20", "G21", "G222", "G23", "G25", "G26", "G27", "G231", "G271")
TEST_GASES = (*LIKE_NATURAL_GAS, "G110", "G112", "G30", "G31", "G32")
MIXTURE = "mixture"  # choice of a fuel that is typed component by component
AIR_OXYGEN, AIR_ARGON = "combustion.air_oxygen_dry", "combustion.air_argon"

FUEL = Choice("fuel", (*GASES, *TEST_GASES, MIXTURE), default="natural_gas")
BASIS = Choice("basis", ("mole", "volume"), default="mole", when=When("fuel", (MIXTURE,)))
# Hydrogen sulphide leaves an acid gas that a flue gas sample can't tell from carbon dioxide.
BURNT = tuple(name for name in COMPONENTS if name != "hydrogen_sulphide")
MIXTURE_REFUSALS = (*REFUSALS, "nothing_burns")
SHARES = (
    Choice("component", BURNT),
    Input("share", "percent", low=0, high=100, also=("ppm",), uncertainty=STATED),
)
COMPOSITION = Rows("components", SHARES, low=1, high=len(BURNT), when=When("fuel", (MIXTURE,)))
FUEL_INPUTS = (FUEL, BASIS, COMPOSITION)
FUEL_USES = ("gas_mixture.sum_tolerance", AIR_OXYGEN, *MIXTURE_TABLES)


def mixture_of(
    ref: InForce,
    fuel: str,
    rows: tuple[Mapping[str, Any], ...] | None = None,
    basis: str | None = None,
) -> Mixture:
    """The mixture that a fuel's name or its rows stand for, with figures at the reference state.

    Args:
        ref: Tables of components and of gases.
        fuel: One of the options of `FUEL`.
        rows: Components typed, where the fuel is a mixture.
        basis: "mole" or "volume", for the rows.
    """
    if fuel == MIXTURE:
        known = components(ref, [row["component"] for row in rows or ()])
        return typed_mixture(known, rows or (), basis or "mole", ref)
    return held_mixture(components(ref), fuel, ref)


@dataclass(frozen=True)
class Burning:
    """Amounts for each mole of gas, burnt with no air to spare.

    Args:
        carbon_dioxide: Formed from the carbon, with what the gas held.
        water: Formed from the hydrogen, with what the gas held.
        nitrogen: What the gas held.
        others: Noble gas that the gas held and sulphur dioxide; None for neither.
        oxygen_need: Oxygen that burns it.
        air_need: Dry air that brings the oxygen.
        dry_products: Flue gas without its water.
        carbon_dioxide_max: Carbon dioxide in the dry flue gas.
    """

    carbon_dioxide: Q
    water: Q
    nitrogen: Q
    others: Q | None
    oxygen_need: Q
    air_need: Q
    dry_products: Q
    carbon_dioxide_max: Q

    @property
    def steps(self) -> dict[str, Q | None]:
        """The amounts by the names under which the working shows them."""
        return {
            "carbon_formed": self.carbon_dioxide,
            "water_formed": self.water,
            "nitrogen_held": self.nitrogen,
            "others_held": self.others,
            "oxygen_need": self.oxygen_need,
            "air_need": self.air_need,
            "dry_products": self.dry_products,
            "carbon_dioxide_max": self.carbon_dioxide_max,
        }


def burn(mixture: Mixture, ref: InForce) -> Burning:
    """Complete combustion of a mixture in dry air with no air to spare.

    Raises:
        Impossible: Nothing in the mixture burns.
    """
    air_oxygen = ref[AIR_OXYGEN]
    oxygen_need = weighted("share × oxygen that burns it", mixture, _oxygen, "")
    if oxygen_need.magnitude <= 0:
        raise Impossible("components", "nothing_burns")
    carbon_dioxide = weighted("share × carbon", mixture, lambda one: one.atoms[0], "")
    nitrogen = weighted("share × nitrogen ÷ 2", mixture, lambda one: one.atoms[2] / 2, "")
    air_need = (oxygen_need / air_oxygen).to("")
    dry_products = carbon_dioxide + nitrogen + (air_need * (1 - air_oxygen)).to("")
    others = weighted("share × sulphur or noble", mixture, _others, "")
    if others.magnitude > 0:
        dry_products = dry_products + others
    return Burning(
        carbon_dioxide=carbon_dioxide,
        water=weighted("share × hydrogen ÷ 2", mixture, lambda one: one.atoms[1] / 2, ""),
        nitrogen=nitrogen,
        others=others if others.magnitude > 0 else None,
        oxygen_need=oxygen_need,
        air_need=air_need,
        dry_products=dry_products,
        carbon_dioxide_max=(carbon_dioxide / dry_products).to("percent"),
    )


def _others(component: Component) -> float:
    *_, sulphur, noble = component.atoms
    return sulphur + noble


def _oxygen(component: Component) -> float:
    carbon, hydrogen, _, oxygen, sulphur, _ = component.atoms
    return carbon + hydrogen / 4 - oxygen / 2 + sulphur


def air_ratio_by_oxygen(burning: Burning, oxygen_dry: Q, ref: InForce) -> Q:
    """Air over the air needed, from oxygen in the dry flue gas, which is less than that of air."""
    spare = oxygen_dry * burning.dry_products / (ref[AIR_OXYGEN] - oxygen_dry)
    return (1 + spare / burning.air_need).to("")


def air_ratio_by_carbon_dioxide(burning: Burning, carbon_dioxide_dry: Q) -> Q:
    """Air over the air needed, from the carbon dioxide in the dry flue gas.

    Raises:
        Impossible: There is more than the fuel can make, or none.
    """
    most = burning.carbon_dioxide_max
    if carbon_dioxide_dry.magnitude <= 0 or carbon_dioxide_dry > most:
        whole = join_unit(round_half_up(most.magnitude, 2), "percent")
        raise Impossible("carbon_dioxide", "dioxide_beyond_this_gas", most=whole)
    spare = (most / carbon_dioxide_dry - 1) * burning.dry_products
    return (1 + spare / burning.air_need).to("")
