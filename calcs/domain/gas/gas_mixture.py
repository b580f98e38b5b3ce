"""Gas as a mixture: its components, their shares by amount, and the sums that ISO 6976 makes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeAlias

from calcs.engine.errors import Impossible
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import Traced, named, si
from calcs.engine.traced_functions import apply
from calcs.engine.units import Q, Quantity, join_unit, parse_quantity, unit_text

# One molecule of each: what a row of components may name.
COMMON = (
    "methane", "ethane", "propane", "n_butane", "i_butane", "n_pentane", "i_pentane", "neo_pentane",
    "n_hexane", "propene", "hydrogen", "carbon_monoxide", "nitrogen", "carbon_dioxide", "oxygen",
    "water",
)  # fmt: skip
FURTHER = (
    "n_heptane", "n_octane", "n_nonane", "n_decane", "ethene", "butene_1", "i_butene",
    "cis_butene_2", "trans_butene_2", "cyclohexane", "benzene", "toluene", "ammonia", "argon",
    "helium", "hydrogen_sulphide",
)  # fmt: skip
COMPONENTS = (*COMMON, *FURTHER)
# Argon and helium are noble: they neither burn nor join.
ATOMS = ("carbon", "hydrogen", "nitrogen", "oxygen", "sulphur", "noble")
COMPONENTS_TABLE, MORE_COMPONENTS_TABLE, FURTHER_COMPONENTS_TABLE = (
    "gas_components",
    "gas_components_more",
    "gas_components_further",
)
REFUSALS = ("component_twice", "shares_make_no_whole")
ATOMIC = "atomic_masses"
BY_VOLUME, BY_MOLE = "test_gases", "site_gases"  # mixtures that are held, by how their shares count
MIXTURE_TABLES = (COMPONENTS_TABLE, FURTHER_COMPONENTS_TABLE, BY_VOLUME, BY_MOLE)


@dataclass(frozen=True)
class Component:
    """One kind of molecule, in plain SI numbers.

    Args:
        atoms: How many of each of `ATOMS`.
        molar_mass: In kilograms a mole.
        summation: How far the gas is from ideal, at the metering temperature.
        heat_gross: In joules a mole, at the combustion temperature.
        summation_uncertainty: Standard uncertainty of `summation`.
        heat_uncertainty: Standard uncertainty of `heat_gross`.
    """

    name: str
    title: str
    atoms: tuple[float, ...]
    molar_mass: float
    summation: float
    heat_gross: float
    summation_uncertainty: float = 0.0
    heat_uncertainty: float = 0.0


# Share by amount of each component; the shares add up to one.
Mixture: TypeAlias = tuple[tuple[Component, Q], ...]


def components(
    ref: InForce,
    names: Iterable[str] = (),
    *,
    combustion: int = 15,
    metering: int = 15,
    uncertainties: bool = False,
) -> dict[str, Component]:
    """Every component that the tables hold, at one pair of reference temperatures.

    Args:
        ref: The tables `gas_components`, where that lacks a figure `..._more`, and `..._further`.
        names: Components that are wanted; the further ones are looked up only where one is.
        combustion: Temperature of combustion, in degrees Celsius: 0, 15, 20 or 25.
        metering: Temperature of metering: 0, 15 or 20.
        uncertainties: Whether the standard uncertainties are wanted.
    """
    more = (
        ref.rows(MORE_COMPONENTS_TABLE)
        if uncertainties or (combustion, metering) != (15, 15)
        else ()
    )
    tables = (
        [ref.rows(COMPONENTS_TABLE)]
        if set(FURTHER).isdisjoint(names)
        else [ref.rows(COMPONENTS_TABLE), ref.rows(FURTHER_COMPONENTS_TABLE)]
    )
    kept = ref.reference.kept
    key = ("components", combustion, metering, id(more), *map(id, tables))
    if key not in kept:
        rows = [row for table in tables for row in table]
        kept[key] = _components(rows, more, combustion, metering)
    found: dict[str, Component] = kept[key]
    return found


Cells: TypeAlias = Mapping[str, str]


def _components(
    rows: Iterable[Cells], more: Iterable[Cells], combustion: int, metering: int
) -> dict[str, Component]:
    further = {row["component"]: row for row in more}

    def cell(row: Mapping[str, str], column: str) -> float:
        text = row.get(column) or further.get(row["component"], {}).get(column) or "0"
        return plain(text)

    return {
        row["component"]: Component(
            name=row["component"],
            title=row["title"],
            atoms=tuple(float(row.get(atom, "0")) for atom in ATOMS),
            molar_mass=cell(row, "molar_mass"),
            summation=cell(row, f"summation_{metering}"),
            heat_gross=cell(row, f"heat_gross_{combustion}"),
            summation_uncertainty=cell(row, "summation_uncertainty"),
            heat_uncertainty=cell(row, "heat_uncertainty"),
        )
        for row in rows
    }


@lru_cache(maxsize=2048)
def plain(text: str) -> float:
    """Plain number in SI base units of a cell of a table. The tables are read at every answer.

    >>> plain("16 kg/kmol")
    0.016
    """
    return si(parse_quantity(text))


def typed_mixture(
    known: Mapping[str, Component], rows: Sequence[Mapping[str, Any]], basis: str, ref: InForce
) -> Mixture:
    """The mixture that a reader typed, row by row.

    Args:
        known: Components by name.
        rows: `component`, `share` and, where given, `share_uncertainty`.
        basis: "mole" or "volume".
        ref: Uses `gas_mixture.sum_tolerance`; for volumes the table `gas_components` too.

    Raises:
        Impossible: A component stands twice, or the shares do not make a whole.
    """
    shares: dict[str, tuple[float, float]] = {}
    for row in rows:
        name, uncertainty = row["component"], row.get("share_uncertainty")
        if name in shares:
            field = f"components[{row['row'] - 1}].component"
            raise Impossible(field, "component_twice", component=known[name].title)
        shares[name] = (si(row["share"]), 0.0 if uncertainty is None else si(uncertainty))
    if are_fractions(rows, ref):
        shares = {
            name: (100 * share, 100 * uncertainty) for name, (share, uncertainty) in shares.items()
        }
    total = math.fsum(share for share, _ in shares.values())
    if abs(total - 1) > si(ref["gas_mixture.sum_tolerance"]):
        whole = join_unit(round_half_up(100 * total, 2), "percent")
        raise Impossible("components", "shares_make_no_whole", total=whole)
    return _mixture(known, shares, basis, ref)


def are_fractions(rows: Sequence[Mapping[str, Any]], ref: InForce) -> bool:
    """Whether the shares are fractions of one: typed as percent, they add up to one percent.

    One percent is no whole, so nothing else can be meant.
    """
    total = math.fsum(si(row["share"]) for row in rows)
    typed = all(unit_text(row["share"].units) == "%" for row in rows)
    return typed and abs(100 * total - 1) <= si(ref["gas_mixture.sum_tolerance"])


def held_mixture(known: Mapping[str, Component], gas: str, ref: InForce) -> Mixture:
    """The mixture that stands in the tables under the name of a test gas or of a gas on site.

    Raises:
        KeyError: No table has the gas.
    """
    table, basis = (BY_VOLUME, "volume") if gas.startswith("G") else (BY_MOLE, "mole")
    for row in ref.rows(table):
        if row["gas"] == gas:
            parts = (part.split() for part in row["composition"].split(","))
            shares = {name: (float(share) / 100, 0.0) for name, share in parts}
            return _mixture(known, shares, basis, ref)
    raise KeyError(gas)


def _mixture(
    known: Mapping[str, Component],
    shares: Mapping[str, tuple[float, float]],
    basis: str,
    ref: InForce,
) -> Mixture:
    """Shares by amount, made to add up to one."""
    amounts = {
        name: (share, uncertainty) for name, (share, uncertainty) in shares.items() if share > 0
    }
    if basis == "volume":
        # A gas that is nearer to condensing packs more into a volume: amount goes with v ÷ Z.
        at_reference = components(ref, amounts)
        for name, (share, uncertainty) in amounts.items():
            factor = 1 / (1 - at_reference[name].summation ** 2)
            amounts[name] = (share * factor, uncertainty * factor)
    total = math.fsum(share for share, _ in amounts.values())
    return tuple(
        (known[name], _leaf(share / total, f"share_{name}", known[name].title, uncertainty / total))
        for name, (share, uncertainty) in amounts.items()
    )


def _leaf(value: float, name: str, label: str, uncertainty: float, unit: str = "") -> Traced:
    leaf = named(Quantity(value, unit), name, label, role="figure")
    if uncertainty:
        leaf.standard_uncertainty = Quantity(uncertainty, unit)
    return leaf


def weighted(
    label: str, mixture: Mixture, figure: Callable[[Component], float], unit: str, *errors: Q
) -> Q:
    """Sum of share × figure over the components.

    Args:
        label: What the working calls it.
        mixture: Shares by amount.
        figure: From a component to its figure in the SI base unit of `unit`.
        unit: Unit of the sum.
        errors: Corrections for the uncertainty of the tables, each nought with an uncertainty.

    >>> methane = Component("methane", "Methane", (1, 4), 0.016, 0.0, 890000.0)
    >>> nitrogen = Component("nitrogen", "Nitrogen", (0, 0, 2), 0.028, 0.0, 0.0)
    >>> mixture = ((methane, Quantity(0.9, "")), (nitrogen, Quantity(0.1, "")))
    >>> weighted("heat", mixture, lambda one: one.heat_gross, "kJ/mol").magnitude
    801.0
    """
    figures = [figure(component) for component, _ in mixture]

    def total(*values: float) -> float:
        shares, rest = values[: len(figures)], values[len(figures) :]
        return math.fsum(s * f for s, f in zip(shares, figures, strict=True)) + math.fsum(rest)

    shares = (share for _, share in mixture)
    slopes = (*figures, *(1.0 for _ in errors))
    return apply(label, total, *shares, *errors, unit=unit, slopes=slopes)


def uncertainty_of_sum(
    label: str, mixture: Mixture, uncertainty: Callable[[Component], float], unit: str
) -> Traced:
    """A correction of nought for the tables, with the standard uncertainty of a weighted sum."""
    terms = (si(share) * uncertainty(component) for component, share in mixture)
    return _leaf(0.0, label.replace(" ", "_"), label, _root_sum(terms), unit)


def uncertainty_of_mass(mixture: Mixture, ref: InForce) -> Traced:
    """A correction of nought for the molar mass: atoms of one kind share their error."""
    uncertainties = {row["atom"]: plain(row["uncertainty"]) for row in ref.rows(ATOMIC)}
    terms = (
        uncertainties[atom]
        * math.fsum(si(share) * component.atoms[place] for component, share in mixture)
        for place, atom in enumerate(ATOMS)
    )
    return _leaf(0.0, "mass_error", "doubt of the atomic masses", _root_sum(terms), "kg/mol")


def _root_sum(terms: Iterable[float]) -> float:
    return math.sqrt(math.fsum(term * term for term in terms))
