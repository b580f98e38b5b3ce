"""The tables of gas components against general-purpose libraries, cell by cell.

The heats come from NASA's enthalpies (Cantera) with CoolProp's water, the summation factors from
the second virial coefficients of CoolProp's equations of state: Z = 1 − s² is 1 + B p ÷ (R T).
"""

from __future__ import annotations

import math
from datetime import date
from functools import cache
from typing import Any

import pytest

from build_tools.runtime import bundle
from calcs.engine.units import parse_quantity
from tests.every_case import every_case, try_each
from tests.tables.rows import TODAY

# The name that Cantera's NASA table has for it, and CoolProp's.
LIBRARIES = {
    "methane": ("CH4", "Methane"),
    "ethane": ("C2H6", "Ethane"),
    "propane": ("C3H8", "Propane"),
    "n_butane": ("C4H10,n-butane", "n-Butane"),
    "i_butane": ("C4H10,isobutane", "IsoButane"),
    "n_pentane": ("C5H12,n-pentane", "n-Pentane"),
    "propene": ("C3H6,propylene", "Propylene"),
    "hydrogen": ("H2", None),
    "carbon_monoxide": ("CO", "CarbonMonoxide"),
    "n_hexane": (None, "n-Hexane"),
    "i_pentane": (None, "Isopentane"),
    "neo_pentane": (None, "Neopentane"),
    "nitrogen": (None, "Nitrogen"),
    "carbon_dioxide": (None, "CarbonDioxide"),
    "oxygen": (None, "Oxygen"),
    "n_heptane": ("C7H16,n-heptane", "n-Heptane"),
    "n_octane": ("C8H18,n-octane", "n-Octane"),
    "n_nonane": (None, "n-Nonane"),
    "n_decane": (None, "n-Decane"),
    "ethene": ("C2H4", "Ethylene"),
    "butene_1": ("C4H8,1-butene", "1-Butene"),
    "i_butene": ("C4H8,isobutene", "IsoButene"),
    "cis_butene_2": ("C4H8,cis2-buten", "cis-2-Butene"),
    "trans_butene_2": ("C4H8,tr2-butene", "trans-2-Butene"),
    "cyclohexane": ("C6H12,cyclo-", "CycloHexane"),
    "benzene": ("C6H6", "Benzene"),
    "toluene": ("C7H8", "Toluene"),
    "ammonia": ("NH3", "Ammonia"),
    "argon": (None, "Argon"),
    "hydrogen_sulphide": ("H2S", "HydrogenSulfide"),
}
ATOMS = ("carbon", "hydrogen", "nitrogen", "oxygen", "sulphur", "noble")


@cache
def tables() -> dict[str, Any]:
    """Made when a test first asks: every process of the tests reads this file."""
    return bundle.make(date.fromisoformat(TODAY))["tables"]


@cache
def rows(end: str = "") -> dict[str, dict[str, str]]:
    """The rows of one of the three tables, by component."""
    table = tables()[f"gas_components{end}"]
    columns = [column["name"] for column in table["columns"]]
    found = (dict(zip(columns, row, strict=True)) for row in table["values"][-1]["rows"])
    return {row["component"]: row for row in found}


@cache
def components() -> dict[str, dict[str, str]]:
    """What the tables say together. The first leaves cells empty that the second holds."""
    more = rows("_more")
    every = {name: {**more.get(name, {}), **row} for name, row in (rows() | further()).items()}
    for name, cells in more.items():
        own = every[name]
        own |= {column: cell for column, cell in cells.items() if not own.get(column)}
    return every


def further() -> dict[str, dict[str, str]]:
    return rows("_further")


HEATS = [
    (name, degrees) for name, (nasa, _) in LIBRARIES.items() if nasa for degrees in (0, 15, 20, 25)
]
FACTORS = [
    (name, degrees)
    for name, (_, fluid) in LIBRARIES.items()
    if fluid and name != "hydrogen"
    for degrees in (0, 15, 20)
]


def number(name: str, column: str) -> float:
    value: float = parse_quantity(components()[name][column]).m
    return value


@cache
def species() -> dict[str, Any]:
    import cantera

    files = ("nasa_gas.yaml", "nasa_condensed.yaml")
    return {one.name: one for file in files for one in cantera.Species.list_from_file(file)}


def enthalpy(name: str, kelvin: float) -> float:
    """Kilojoules a mole."""
    return float(species()[name].thermo.h(kelvin)) / 1e6


def liquid_water(kelvin: float) -> float:
    """NASA's at 25 °C, carried on by CoolProp's heat capacity; its table begins above 0 °C."""
    from CoolProp.CoolProp import PropsSI

    there, here = (
        PropsSI("HMOLAR", "T", max(one, 273.17), "P", 101325, "Water") for one in (298.15, kelvin)
    )
    return enthalpy("H2O(L)", 298.15) + (here - there) / 1000


def burnt(name: str, kelvin: float) -> float:
    """Gross heat of combustion in kilojoules a mole."""
    carbon, hydrogen, nitrogen, oxygen, sulphur, _ = (
        float(components()[name].get(atom, "0")) for atom in ATOMS
    )
    need = carbon + hydrogen / 4 - oxygen / 2 + sulphur
    products = (
        carbon * enthalpy("CO2", kelvin)
        + hydrogen / 2 * liquid_water(kelvin)
        + nitrogen / 2 * enthalpy("N2", kelvin)
        + sulphur * enthalpy("SO2", kelvin)
    )
    nasa = LIBRARIES[name][0]
    assert nasa
    return enthalpy(nasa, kelvin) + need * enthalpy("O2", kelvin) - products


@every_case(("name", "degrees"), HEATS)
def test_a_heat_is_that_of_nasa_s_enthalpies(name: str, degrees: int) -> None:
    near = 2e-6 if name in further() else 2e-4
    found = number(name, f"heat_gross_{degrees}")
    assert found == pytest.approx(burnt(name, degrees + 273.15), rel=near, abs=0.006)


@every_case(("name", "degrees"), [heat for heat in HEATS if heat[1] != 15])
def test_a_heat_moves_with_temperature_as_heat_capacities_say(name: str, degrees: int) -> None:
    """The figures away from 15 °C are from memory: what they differ by is worked out apart."""
    found = number(name, f"heat_gross_{degrees}") - number(name, "heat_gross_15")
    wanted = burnt(name, degrees + 273.15) - burnt(name, 288.15)
    assert found == pytest.approx(wanted, abs=0.05)


@pytest.mark.parametrize("degrees", [0, 15, 20, 25])
@pytest.mark.parametrize(("name", "carbon"), [("n_nonane", 9), ("n_decane", 10)])
def test_the_heaviest_follow_from_the_lighter_of_their_series(
    name: str, carbon: int, degrees: int
) -> None:
    import numpy as np

    series = ("n_butane", "n_pentane", "n_hexane", "n_heptane", "n_octane")
    heats = [number(one, f"heat_gross_{degrees}") for one in series]
    slope, start = np.polyfit(range(4, 9), heats, 1)
    assert number(name, f"heat_gross_{degrees}") == pytest.approx(start + slope * carbon, rel=2e-4)


@every_case(("name", "degrees"), FACTORS)
def test_a_summation_factor_is_that_of_the_equation_of_state(name: str, degrees: int) -> None:
    from CoolProp.CoolProp import PropsSI

    kelvin = degrees + 273.15
    virial = PropsSI("BVIRIAL", "T", kelvin, "D", 1e-6, LIBRARIES[name][1])
    factor = math.sqrt(-virial * 101325 / (8.3144621 * kelvin))
    near = 1e-3 if name in further() else 3e-2
    assert number(name, f"summation_{degrees}") == pytest.approx(factor, rel=near, abs=6e-5)


def test_a_molar_mass_is_that_of_its_atoms() -> None:
    assert len(further()) > 10
    try_each(further().items(), is_molar_mass_of_its_atoms)


def is_molar_mass_of_its_atoms(row: dict[str, str]) -> None:
    # IUPAC atomic weights, as ISO 6976 takes them; helium and argon are atoms themselves.
    name = row["component"]
    own = {"helium": 4.002602, "argon": 39.948}.get(name, 0.0)
    weights = (12.0107, 1.00794, 14.0067, 15.9994, 32.065, own)
    mass = sum(int(row[atom]) * weight for atom, weight in zip(ATOMS, weights, strict=True))
    assert number(name, "molar_mass") == pytest.approx(mass, rel=1e-6)
