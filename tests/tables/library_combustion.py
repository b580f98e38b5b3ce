"""Answers from general-purpose libraries for gas, combustion and flue gas.

The same rules hold as in `libraries.py`: the `given` of a row in, quantities out, and nothing
that `calcs` works out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.units import Quantity, parse_quantity

__all__ = [
    "burning_by_equilibrium_solver",
    "density_of_pure_gas",
    "dioxide_beside_oxygen",
    "draught_by_equations_of_state",
    "flue_loss_by_reference_equations",
    "greatest_dioxide_by_equilibrium_solver",
    "heat_of_methane_by_enthalpies",
    "heat_of_propane_by_heat_capacities",
    "sample_by_equilibrium_solver",
]

# Dry air as ISO 6976 and data/ have it, all that is neither oxygen nor argon as nitrogen.
AIR = {"O2": 0.20946, "AR": 0.00934, "N2": 0.7812}
GRI = {
    "methane": "CH4",
    "ethane": "C2H6",
    "propane": "C3H8",
    "nitrogen": "N2",
    "carbon_dioxide": "CO2",
    "hydrogen": "H2",
    "ethene": "C2H4",
    "ammonia": "NH3",
    "argon": "AR",
}
PURE = {
    "G20": "Methane",
    "G31": "Propane",
    "G32": "Propylene",
    "ethene": "Ethylene",
    "i_butene": "IsoButene",
    "argon": "Argon",
}


def density_of_pure_gas(given: Mapping[str, Any]) -> dict[str, Any]:
    """CoolProp: reference equations of state of one gas and of air, at 15 °C and 1 atm."""
    from CoolProp.CoolProp import PropsSI

    rows = given.get("components") or ({},)
    name = PURE.get(given.get("test_gas") or rows[0].get("component"))
    density, air = (PropsSI("D", "T", 288.15, "P", 101325, one) for one in (name, "Air"))
    return {
        "density": Quantity(density, "kg/m**3"),
        "relative_density": Quantity(density / air, ""),
    }


def _typed_shares(given: Mapping[str, Any]) -> dict[str, float]:
    """Shares by amount of a row's fuel, by the name that Cantera's GRI mechanism has for them."""
    if pure := PURE.get(given.get("test_gas") or given.get("fuel", "")):
        return {{"Methane": "CH4", "Propane": "C3H8"}[pure]: 1.0}
    rows = given["components"]
    return {GRI[row["component"]]: parse_quantity(row["share"]).to("").magnitude for row in rows}


def burning_by_equilibrium_solver(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera: air for no oxygen left, and the products that its solver finds at 400 K."""
    import cantera

    gas = cantera.Solution("gri30.yaml")
    gas.TP = 400, cantera.one_atm
    fuel = _typed_shares(given)
    gas.set_equivalence_ratio(1.0, fuel, AIR)
    unburnt = gas.mole_fraction_dict()
    share_of_fuel = sum(unburnt[name] for name in fuel if name not in AIR)
    share_of_fuel /= sum(share for name, share in fuel.items() if name not in AIR)
    gas.equilibrate("TP")
    dry = 1 - gas["H2O"].X[0]
    return {
        "air_need": Quantity((1 - share_of_fuel) / share_of_fuel, ""),
        "carbon_dioxide_max": Quantity(100 * gas["CO2"].X[0] / dry, "percent"),
    }


def greatest_dioxide_by_equilibrium_solver(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera: carbon dioxide of the dry products with no air to spare."""
    return {"carbon_dioxide_max": burning_by_equilibrium_solver(given)["carbon_dioxide_max"]}


def heat_of_methane_by_enthalpies(_given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera: enthalpies of formation in NASA's tables, the water liquid, at 25 °C."""
    import cantera

    gases = {one.name: one for one in cantera.Species.list_from_file("nasa_gas.yaml")}
    liquids = {one.name: one for one in cantera.Species.list_from_file("nasa_condensed.yaml")}

    def enthalpy(species: Any) -> float:
        return float(species.thermo.h(298.15)) / 1e6  # J/kmol to kJ/mol

    burnt = enthalpy(gases["CO2"]) + 2 * enthalpy(liquids["H2O(L)"])
    heat = enthalpy(gases["CH4"]) + 2 * enthalpy(gases["O2"]) - burnt
    return {"molar_heat_gross": Quantity(heat, "kJ/mol")}


def heat_of_propane_by_heat_capacities(_given: Mapping[str, Any]) -> dict[str, Any]:
    """CoolProp: from the published figure at 15 °C to 0 °C by the heat capacities of all five."""
    from CoolProp.CoolProp import PropsSI
    from scipy.integrate import quad

    def change(kelvin: float) -> float:
        def ideal(name: str) -> float:
            return float(PropsSI("CP0MOLAR", "T", kelvin, "P", 1000, name))

        liquid = float(PropsSI("CPMOLAR", "T", max(kelvin, 273.17), "P", 101325, "Water"))
        products = 3 * ideal("CarbonDioxide") + 4 * liquid
        return (products - ideal("Propane") - 5 * ideal("Oxygen")) / 1000

    heat = 2221.10 + quad(change, 273.15, 288.15)[0]
    return {"molar_heat_gross": Quantity(heat, "kJ/mol")}


def sample_by_equilibrium_solver(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera and SciPy: the air for which the solver leaves the oxygen that was read."""
    ratio, burnt = _burnt(given)
    dioxide, water = (100 * burnt[name].X[0] for name in ("CO2", "H2O"))
    return {
        "air_ratio": Quantity(ratio, ""),
        "carbon_dioxide_exact": Quantity(dioxide / (1 - water / 100), "percent"),
    }


def _burnt(given: Mapping[str, Any]) -> tuple[float, Any]:
    """Air ratio and burnt gas for which Cantera leaves the oxygen that was read."""
    import cantera
    from scipy.optimize import brentq

    gas = cantera.Solution("gri30.yaml")
    fuel = _typed_shares(given)
    wanted = parse_quantity(given["oxygen"]).to("").magnitude

    def burn(ratio: float) -> Any:
        gas.TP = 400, cantera.one_atm
        gas.set_equivalence_ratio(1 / ratio, fuel, AIR)
        gas.equilibrate("TP")
        return gas

    def missed(ratio: float) -> float:
        burnt = burn(ratio)
        return float(burnt["O2"].X[0] / (1 - burnt["H2O"].X[0]) - wanted)

    ratio = brentq(missed, 1.0001, 20, xtol=1e-13, rtol=1e-13)
    return ratio, burn(ratio)


def flue_loss_by_reference_equations(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera's burnt gas, its heat by CoolProp, its dew point and condensate by iapws.

    The heat of the gas is the published one of ISO 6976, net at 15 °C, for methane, propane or
    hydrogen. One mole of gas makes so many of the product named, which counts the flue gas.
    """
    from CoolProp.CoolProp import PropsSI
    from iapws.iapws97 import _PSat_T, _TSat_P

    made, product, net = {
        "G20": (1, "CO2", 802.648e3),
        "G31": (3, "CO2", 2043.376e3),
        "mixture": (1, "H2O", 241.719e3),
    }[given["fuel"]]
    _, burnt = _burnt(given)
    total = made / burnt[product].X[0]
    amounts = {name: total * burnt[name].X[0] for name in ("CO2", "H2O", "O2", "N2", "AR")}
    hot, cold = (
        parse_quantity(given[name].replace("°C", "degC")).to("kelvin").magnitude
        for name in ("flue_temperature", "air_temperature")
    )
    fluids = dict(
        zip(amounts, ("CarbonDioxide", "Water", "Oxygen", "Nitrogen", "Argon"), strict=True)
    )

    def molar(name: str, kelvin: float) -> float:
        return float(PropsSI("HMOLAR", "T|gas", kelvin, "P", 100, fluids[name]))

    heat = sum(n * (molar(name, hot) - molar(name, cold)) for name, n in amounts.items())
    vapour = _PSat_T(hot) / 0.101325 if hot < 373.15 else 1.0
    dry = sum(amounts.values()) - amounts["H2O"]
    water = max(0.0, amounts["H2O"] - dry * vapour / (1 - vapour)) if vapour < 1 else 0.0
    liquid = float(PropsSI("HMOLAR", "T", hot, "P", 101325, "Water")) if water else 0.0
    loss = heat - water * (molar("H2O", hot) - liquid if water else 0.0)
    return {
        "loss_net": Quantity(100 * loss / net, "percent"),
        "efficiency_net": Quantity(100 - 100 * loss / net, "percent"),
        "dew_point": Quantity(_TSat_P(0.101325 * burnt["H2O"].X[0]) - 273.15, "degC"),
        "condensate": Quantity(water * 18.01528 / net, "g/J").to("g/kWh"),
    }


def draught_by_equations_of_state(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera's burnt gas with each part's density by CoolProp, and CoolProp's air outside."""
    from CoolProp.CoolProp import PropsSI

    _, burnt = _burnt(given)
    fluids = {
        "CO2": "CarbonDioxide",
        "H2O": "Water",
        "O2": "Oxygen",
        "N2": "Nitrogen",
        "AR": "Argon",
    }
    hot, cold = (
        parse_quantity(given[name]).to("kelvin").magnitude
        for name in ("flue_temperature", "outside_temperature")
    )
    total = parse_quantity(given.get("pressure", "1013.25 mbar")).to("Pa").magnitude
    inside = sum(
        PropsSI("D", "T|gas", hot, "P", total * burnt[name].X[0], fluid)
        for name, fluid in fluids.items()
    )
    outside = PropsSI("D", "T", cold, "P", total, "Air")
    rise = parse_quantity(given["height"]).to("m").magnitude
    return {
        "flue_density": Quantity(inside, "kg/m**3"),
        "outside_density": Quantity(outside, "kg/m**3"),
        "draught": Quantity(9.80665 * rise * (outside - inside), "Pa"),
    }


def dioxide_beside_oxygen(given: Mapping[str, Any]) -> dict[str, Any]:
    """Cantera: the carbon dioxide that belongs to the oxygen of a visit's sample of propane."""
    sample = {"fuel": "G31", "carbon_monoxide": "0 ppm", "oxygen": given["oxygen"]}
    return {"dioxide_by_oxygen": sample_by_equilibrium_solver(sample)["carbon_dioxide_exact"]}
