"""One sample of flue gas held against its fuel: spare air, exact and as analysers have it."""

from __future__ import annotations

import math
from collections.abc import Mapping

from calcs.core import Input, Instrument
from calcs.errors import Impossible, Missing
from calcs.reference import InForce
from calcs.topics.gas_mixture import components, held_mixture
from calcs.topics.stoichiometry import (
    AIR_OXYGEN,
    LIKE_NATURAL_GAS,
    Burning,
    air_ratio_by_carbon_dioxide,
    air_ratio_by_oxygen,
    burn,
)
from calcs.traced import Traced, named, si
from calcs.uncertainty import reading_uncertainty
from calcs.units import Q, Quantity

# What is read in the dry flue gas, and what reads it, for every calculator that takes a sample.
SAMPLE = (
    Input("oxygen", "percent", low=0, high=21, optional=True, read_with="oxygen_cell"),
    Input("carbon_dioxide", "percent", 0.1, 20, optional=True, read_with="dioxide_cell"),
)
SAMPLE_CELLS = (
    Instrument("oxygen_cell", "oxygen", "percent", "analyser_oxygen", 21),
    Instrument("dioxide_cell", "carbon_dioxide", "percent", "analyser_carbon_dioxide", 20),
)
INSTRUMENT_OXYGEN = "combustion.air_oxygen_instrument"
# Which constants an analyser takes for a fuel: it knows kinds of gas, not compositions.
ANALYSER_FUEL = {
    **dict.fromkeys(("natural_gas", *LIKE_NATURAL_GAS), "natural_gas"),
    **dict.fromkeys(("propane", "G31"), "propane"),
    **dict.fromkeys(("butane", "G30"), "butane"),
}


def air_ratio(burning: Burning, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce) -> Q:
    """Air over the air needed: by oxygen where it was read, else by carbon dioxide.

    Raises:
        Missing: Neither was read.
        Impossible: There is as much oxygen as an analyser takes for air.
    """
    if oxygen is not None:
        if oxygen >= ref[INSTRUMENT_OXYGEN]:
            raise Impossible(
                "oxygen", "{oxygen} is that of air or more: there is no flue gas in the sample."
            )
        return air_ratio_by_oxygen(burning, oxygen, ref)
    if carbon_dioxide is not None:
        return air_ratio_by_carbon_dioxide(burning, carbon_dioxide)
    raise Missing("oxygen", fix="Enter the oxygen, or the carbon dioxide, of the dry flue gas.")


def instrument_maximum(fuel: str, burning: Burning, ref: InForce) -> Q:
    """Greatest carbon dioxide that an analyser takes for the fuel; the exact one if it has none."""
    kind = ANALYSER_FUEL.get(fuel)
    return ref[f"combustion.carbon_dioxide_max.{kind}"] if kind else burning.carbon_dioxide_max


def by_instrument(
    maximum: Q, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce
) -> dict[str, Q]:
    """Excess air and, from oxygen, carbon dioxide as an analyser works them out."""
    air = ref[INSTRUMENT_OXYGEN]
    found: dict[str, Q] = {}
    if oxygen is None:
        found["air_ratio_instrument"] = (maximum / carbon_dioxide).to("")
        return found
    found["carbon_dioxide_instrument"] = (maximum * (air - oxygen) / air).to("percent")
    found["air_ratio_instrument"] = (air / (air - oxygen)).to("")
    return found


def fit(burning: Burning, fuel: str, readings: tuple[Q, Q], ref: InForce) -> dict[str, Q]:
    """Oxygen and carbon dioxide of one sample held against the line of the fuel.

    Args:
        burning: What the fuel needs and leaves.
        fuel: Its name.
        readings: Oxygen and carbon dioxide.
        ref: Uses the make-up of air.
    """
    oxygen, carbon_dioxide = readings
    air, instrument_air = ref[AIR_OXYGEN], ref[INSTRUMENT_OXYGEN]
    most = burning.carbon_dioxide_max + _spread(burning, fuel, ref)
    expected = (air * (1 - carbon_dioxide / most)).to("percent")
    return {
        "oxygen_expected": expected,
        "oxygen_difference": oxygen - expected,
        "implied_maximum": (carbon_dioxide * instrument_air / (instrument_air - oxygen)).to(
            "percent"
        ),
    }


def _spread(burning: Burning, fuel: str, ref: InForce) -> Traced:
    """How far natural gas may be from the one taken: as far as pure methane is from it."""
    width = 0.0
    if fuel == "natural_gas":
        methane = burn(held_mixture(components(ref), "G20", ref), ref)
        width = abs(si(methane.carbon_dioxide_max) - si(burning.carbon_dioxide_max))
    spread = named(Quantity(0.0, "percent"), "spread", "spread of natural gas", role="record")
    spread.standard_uncertainty = Quantity(width / math.sqrt(3), "")
    return spread


def doubt_of_carbon_monoxide(
    reading: Q, resolution: Q | None, accuracy: Q | None, *, low_range: bool, ref: Mapping[str, Q]
) -> None:
    """Give a reading its doubt in parts per million, whatever unit it was typed in.

    Args:
        reading: The reading, which carries its doubt from then on.
        resolution: Smallest step.
        accuracy: Half-width of the error, as a step or in percent of the reading.
        low_range: Whether small readings have the fixed error of analysers.
        ref: Uses the low range and its error.
    """
    if not isinstance(reading, Traced) or resolution is None:
        return
    if low_range and reading <= ref["carbon_monoxide.analyser_low_range"]:
        accuracy = ref["carbon_monoxide.analyser_low_accuracy"]
    plain = Quantity(reading.to("ppm").magnitude, "ppm")
    reading.standard_uncertainty = reading_uncertainty(plain, resolution, accuracy)
