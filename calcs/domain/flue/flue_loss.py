"""Flue loss by the rules of analysers and standards, from the temperature rise and one gas."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.domain.gas.gas_mixture import Mixture, plain, weighted
from calcs.domain.gas.stoichiometry import LIKE_NATURAL_GAS
from calcs.engine.in_force import InForce
from calcs.engine.traced import named
from calcs.engine.units import Q, Quantity

# Which constants the rules hold for a fuel; a mixture has none.
SIEGERT_FUEL = {
    **dict.fromkeys(("natural_gas", *LIKE_NATURAL_GAS), "natural_gas"),
    **dict.fromkeys(("propane", "butane", "G30", "G31"), "lpg"),
}
WET_FUEL = {
    **dict.fromkeys(("natural_gas", *LIKE_NATURAL_GAS), "natural_gas"),
    **dict.fromkeys(("propane", "G31"), "propane"),
    **dict.fromkeys(("butane", "G30"), "butane"),
}


def siegert(
    *, fuel: str, rise: Q, oxygen: Q | None, carbon_dioxide: Q | None, ref: Mapping[str, Q]
) -> dict[str, Q]:
    """Net flue loss by Siegert's rule; empty for a fuel that it has no constants for.

    Args:
        fuel: Gas that burns.
        rise: Flue gas above combustion air. [K]
        oxygen: In the dry flue gas. [percent]
        carbon_dioxide: The same. [percent]
        ref: Uses the constants A1, A2 and B of the fuel.

    >>> ref = {
    ...     "combustion.siegert_a2.natural_gas": Quantity(0.6, "percent**2/K"),
    ...     "combustion.siegert_b.natural_gas": Quantity(0.01, "percent/K"),
    ...     "combustion.air_oxygen_siegert": Quantity(21, "percent"),
    ... }
    >>> rise, oxygen = Quantity(100, "K"), Quantity(6, "percent")
    >>> loss = siegert(fuel="G20", rise=rise, oxygen=oxygen, carbon_dioxide=None, ref=ref)
    >>> round(loss["loss_siegert"].magnitude, 9)
    5.0
    """
    kind = SIEGERT_FUEL.get(fuel)
    if kind is None:
        return {}
    found: dict[str, Q] = {}
    if oxygen is not None:
        air = ref["combustion.air_oxygen_siegert"]
        found["loss_siegert"] = _by_oxygen(kind, rise, air - oxygen, ref)
    if carbon_dioxide is not None:
        by_dioxide, steady = (ref[f"combustion.siegert_{name}.{kind}"] for name in ("a1", "b"))
        share = rise * (by_dioxide / carbon_dioxide + steady)
        found["loss_siegert_dioxide"] = share.to("percent")
    return found


def as_analysers_show(
    *, fuel: str, rise: Q, oxygen: Q | None, ref: Mapping[str, Q]
) -> dict[str, Q]:
    """Net flue loss by Siegert's rule with the air's oxygen as analysers take it.

    Args:
        fuel: Gas that burns.
        rise: Flue gas above combustion air. [K]
        oxygen: In the dry flue gas. [percent]
        ref: Uses the constants A2 and B.
    """
    kind = SIEGERT_FUEL.get(fuel)
    if kind is None or oxygen is None:
        return {}
    air = ref["combustion.air_oxygen_instrument"]
    return {"loss_siegert_instrument": _by_oxygen(kind, rise, air - oxygen, ref)}


def _by_oxygen(kind: str, rise: Q, left: Q, ref: Mapping[str, Q]) -> Q:
    by_oxygen, steady = (ref[f"combustion.siegert_{name}.{kind}"] for name in ("a2", "b"))
    return (rise * (by_oxygen / left + steady)).to("percent")


def dry_loss_constants(mixture: Mixture, heats: tuple[Q, Q], ref: InForce) -> dict[str, Q]:
    """Constants of the dry loss of BS 845 for the fuel: its carbon over its heat, by mass.

    Empty for a gas with no carbon: the rule goes by carbon dioxide.

    Args:
        mixture: What the fuel is made of.
        heats: Heat of a mole, gross and net.
        ref: Uses the table of components and `combustion.bs_845_factor`.
    """
    rows = {row["component"]: row for row in ref.rows("gas_components")}
    # A molecule of carbon dioxide less one of oxygen is one atom of carbon.
    atom = plain(rows["carbon_dioxide"]["molar_mass"]) - plain(rows["oxygen"]["molar_mass"])
    carbon_mass = named(Quantity(atom * 1000, "kg/kmol"), "carbon_mass", "Molar mass of carbon")
    carbon = weighted("share × carbon", mixture, lambda one: one.atoms[0], "")
    if carbon.magnitude <= 0:
        return {}
    molar_mass = weighted("share × molar mass", mixture, lambda one: one.molar_mass, "kg/kmol")
    # The factor is for carbon and loss in percent: a percent a kelvin carries the second of them.
    factor = ref["combustion.bs_845_factor"] * Quantity(1, "percent/K")
    carbon_share = (carbon * carbon_mass / molar_mass).to("percent")
    found = {"molar_mass": molar_mass, "carbon_share": carbon_share}
    for basis, heat in zip(("gross", "net"), heats, strict=True):
        mass_heat = (heat / molar_mass).to("kJ/kg")
        found[f"mass_heat_{basis}"] = mass_heat
        found[f"k1_{basis}"] = (factor * carbon_share / mass_heat).to("percent**2/K")
    return found


def loss_by_constants(
    constants: Mapping[str, Q], *, fuel: str, rise: Q, carbon_dioxide: Q, ref: Mapping[str, Q]
) -> dict[str, Q]:
    """Losses of BS 845: dry net, dry gross and, where its constant is held, wet."""
    if not constants:
        return {}
    found = {
        f"loss_dry_{basis}": (constants[f"k1_{basis}"] * rise / carbon_dioxide).to("percent")
        for basis in ("net", "gross")
    }
    if kind := WET_FUEL.get(fuel):
        slope = ref["combustion.wet_loss_slope"]
        wet = ref[f"combustion.k3.{kind}"] * (1 + (slope * rise).to(""))
        found["loss_wet"] = wet.to("percent")
        found["efficiency_gross_rule"] = (1 - found["loss_dry_gross"] - wet).to("percent")
    return found
