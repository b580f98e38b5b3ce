"""One sample of flue gas held against its fuel: spare air, exact and as analysers have it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.flue.flue_fit import INSTRUMENT_OXYGEN
from calcs.domain.gas.stoichiometry import (
    LIKE_NATURAL_GAS,
    Burning,
    air_ratio_by_carbon_dioxide,
    air_ratio_by_oxygen,
)
from calcs.domain.plausibility.ratio import check_for_share
from calcs.engine.declarations import Input, Instrument
from calcs.engine.errors import Impossible, Missing
from calcs.engine.in_force import InForce
from calcs.engine.traced import Traced, si
from calcs.engine.uncertainty import expanded, read_by
from calcs.engine.units import Q

# What is read in the dry flue gas, and what reads it, for every calculator that takes a sample.
SAMPLE = (
    Input("oxygen", "percent", low=0, high=21, optional=True, read_with="oxygen_cell"),
    Input("carbon_dioxide", "percent", 0, 20, optional=True, read_with="dioxide_cell"),
)
SAMPLE_CELLS = (
    Instrument("oxygen_cell", "oxygen", "percent", "analyser_oxygen", 21),
    Instrument("dioxide_cell", "carbon_dioxide", "percent", "analyser_carbon_dioxide", 20),
)
MONOXIDE_CELL = Instrument(
    "monoxide_cell", "carbon_monoxide", "ppm", "analyser_carbon_monoxide", 40000, ("percent",)
)
SAMPLE_REFUSALS = (
    "oxygen_or_dioxide",
    "oxygen_of_air",
    "dioxide_beyond_this_gas",
    "meant_as_share",
)
# Which constants an analyser takes for a fuel: it knows kinds of gas, not compositions.
ANALYSER_FUEL = {
    **dict.fromkeys(("natural_gas", *LIKE_NATURAL_GAS), "natural_gas"),
    **dict.fromkeys(("propane", "G31"), "propane"),
    **dict.fromkeys(("butane", "G30"), "butane"),
}


def check_shares(given: Mapping[str, Any]) -> None:
    """Refuse oxygen or carbon dioxide that its cell can't show: a share of one typed as percent."""
    for gas, cell in (("oxygen", "oxygen_cell"), ("carbon_dioxide", "dioxide_cell")):
        check_for_share(gas, given[gas], given[f"{cell}_resolution"])


def check_carbon(burning: Burning) -> None:
    """Refuse a gas whose flue gas has no carbon dioxide.

    Raises:
        Impossible: The gas holds no carbon.
    """
    if burning.carbon_dioxide.magnitude <= 0:
        raise Impossible("components", "gas_without_carbon")


def check_for_air(oxygen: Q | None, monoxide: Q, ref: Mapping[str, Q]) -> None:
    """Refuse a sample with all the oxygen of air; with carbon monoxide in it, say what that means.

    Raises:
        Impossible: There is as much oxygen as an analyser takes for air.
    """
    if oxygen is None or oxygen < ref[INSTRUMENT_OXYGEN]:
        return
    if si(monoxide) > si(expanded(monoxide)):
        raise Impossible("oxygen", "monoxide_in_air")
    raise Impossible("oxygen", "oxygen_of_air")


def air_ratio(burning: Burning, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce) -> Q:
    """Air over the air needed: by oxygen where it was read, else by carbon dioxide.

    Raises:
        Missing: Neither was read.
        Impossible: There is as much oxygen as an analyser takes for air.
    """
    if oxygen is not None:
        if oxygen >= ref[INSTRUMENT_OXYGEN]:
            raise Impossible("oxygen", "oxygen_of_air")
        return air_ratio_by_oxygen(burning, oxygen, ref)
    if carbon_dioxide is not None:
        return air_ratio_by_carbon_dioxide(burning, carbon_dioxide)
    raise Missing("oxygen", "oxygen_or_dioxide")


def instrument_maximum(fuel: str, burning: Burning, ref: InForce) -> Q:
    """Greatest carbon dioxide that an analyser takes for the fuel; the exact one if it has none."""
    kind = ANALYSER_FUEL.get(fuel)
    return ref[f"combustion.carbon_dioxide_max.{kind}"] if kind else burning.carbon_dioxide_max


def carbon_dioxide_of(maximum: Q, oxygen: Q | None, ref: InForce) -> dict[str, Q]:
    """Carbon dioxide as an analyser works it out from oxygen; nothing where none was read."""
    if oxygen is None:
        return {}
    air = ref[INSTRUMENT_OXYGEN]
    return {"carbon_dioxide_instrument": (maximum * (air - oxygen) / air).to("percent")}


def by_instrument(
    maximum: Q, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce
) -> dict[str, Q]:
    """Excess air and, from oxygen, carbon dioxide as an analyser works them out."""
    air = ref[INSTRUMENT_OXYGEN]
    found: dict[str, Q] = {}
    if oxygen is None:
        found["air_ratio_instrument"] = (maximum / carbon_dioxide).to("")
        return found
    found |= carbon_dioxide_of(maximum, oxygen, ref)
    found["air_ratio_instrument"] = (air / (air - oxygen)).to("")
    return found


def uncertainty_of_carbon_monoxide(
    reading: Q, resolution: Q | None, accuracy: Q | None, *, low_range: bool, ref: Mapping[str, Q]
) -> None:
    """Give a reading its uncertainty in parts per million, whatever unit it was typed in.

    Args:
        reading: The reading, which carries its uncertainty from then on.
        resolution: Smallest step.
        accuracy: Half-width of the error, as a step or in percent of the reading.
        low_range: Whether small readings have the fixed error of analysers.
        ref: Uses the low range and its error.
    """
    if not isinstance(reading, Traced) or resolution is None:
        return
    if low_range and reading <= ref["carbon_monoxide.analyser_low_range"]:
        accuracy = ref["carbon_monoxide.analyser_low_accuracy"]
    read_by(reading, "monoxide_cell", resolution, accuracy)
