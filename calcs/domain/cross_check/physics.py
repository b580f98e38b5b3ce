"""What follows from the readings, by the formulas that the other calculators use."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from calcs.domain.cross_check.relations import Derived
from calcs.domain.flue.flue_gas import saturation, saturation_pressure, saturation_temperature
from calcs.domain.flue.flue_heat import molar_heats
from calcs.domain.gas.stoichiometry import AIR_OXYGEN, burn, mixture_of
from calcs.domain.pipes.pipe_flow import (
    Gas,
    Pipe,
    friction_factor,
    friction_loss,
    natural_log,
    reynolds_number,
)
from calcs.engine.in_force import InForce
from calcs.engine.traced import si

FREEZING = 273.16  # K: below it the equation of saturation does not hold
SIEGERT = {"natural_gas": "natural_gas", "propane": "lpg"}
USES = (
    "combustion.siegert_a2.*",
    "combustion.siegert_b.*",
    "combustion.air_oxygen_siegert",
    "combustion.air_oxygen_instrument",
    "combustion.carbon_dioxide_max.*",
    "reference_state.pressure",
)


@dataclass(frozen=True)
class Fuel:
    """What the flue gas of a gas depends on, by amount for each part of gas.

    Args:
        dioxide: Carbon dioxide formed.
        water: Water formed.
        dry: Dry flue gas with no spare air.
        air: Air that burns it.
        air_oxygen: Oxygen in dry air.
        latent: Heat of condensing all of the water, over the net heat.
    """

    dioxide: float
    water: float
    dry: float
    air: float
    air_oxygen: float
    latent: float

    def air_ratio(self, oxygen: float) -> float:
        """Air over the air needed, from oxygen in the dry flue gas."""
        return 1 + oxygen * self.dry / (self.air * (self.air_oxygen - oxygen))

    def dry_gas(self, oxygen: float) -> float:
        """Dry flue gas from one part of gas."""
        return self.dry + (self.air_ratio(oxygen) - 1) * self.air


def fuel_of(gas: str, ref: InForce) -> Fuel:
    """The flue gas of one of the gases of the handbook."""
    mixture = mixture_of(ref, gas)
    burning = burn(mixture, ref)
    gross, net = molar_heats(mixture, ref)
    return Fuel(
        si(burning.carbon_dioxide),
        si(burning.water),
        si(burning.dry_products),
        si(burning.air_need),
        si(ref[AIR_OXYGEN]),
        si(gross) / si(net) - 1,
    )


@dataclass(frozen=True)
class Supply:
    """The run from the meter, and the gas in it."""

    pipe: Pipe | None
    gas: Gas


def derived_quantities(
    gas: str, wobbe: tuple[float, float, float], supply: Supply, ref: InForce
) -> Mapping[str, Derived]:
    """How each quantity that follows from others does so, in SI base units.

    Args:
        gas: "natural_gas" or "propane".
        wobbe: Of the gases of the network: the ratio to the test gas, the calorific value for
            which it holds, and the power of that with which it goes.
        supply: The run that the loss is of.
        ref: Constants of flue loss, and what analysers take.
    """
    fuel = fuel_of(gas, ref)
    kind = SIEGERT[gas]
    by_oxygen, steady = (si(ref[f"combustion.siegert_{name}.{kind}"]) for name in ("a2", "b"))
    exact, shown = (
        si(ref[name])
        for name in ("combustion.air_oxygen_siegert", "combustion.air_oxygen_instrument")
    )
    most = si(ref[f"combustion.carbon_dioxide_max.{gas}"])
    condensing = _condensing(fuel, ref)

    def loss(flue: float, air: float, oxygen: float, of_air: float) -> float | None:
        if not 0 <= oxygen < of_air or flue <= air:
            return None
        return (flue - air) * (by_oxygen / (of_air - oxygen) + steady)

    def efficiency(flue: float, air: float, oxygen: float) -> float | None:
        lost = loss(flue, air, oxygen, exact)
        return None if lost is None or lost > 0.9 else 1 - lost + condensing(flue, oxygen)

    def by_rule(flue: float, air: float, oxygen: float) -> float | None:
        # Analysers differ in whether they count the heat of what condenses: half of it either way.
        lost = loss(flue, air, oxygen, shown)
        return None if lost is None else 1 - lost + condensing(flue, oxygen) / 2

    def dioxide(oxygen: float) -> float | None:
        return fuel.dioxide / fuel.dry_gas(oxygen) if 0 <= oxygen < fuel.air_oxygen else None

    ratio, at, power = wobbe
    return {
        "temperature_rise": lambda hot, cold: hot - cold if hot > cold else None,
        "run_loss": lambda flow: _run_loss(flow, supply),
        "efficiency": efficiency,
        "efficiency_by_rule": by_rule,
        "heat_of_condensing": condensing,
        "dioxide_of_oxygen": dioxide,
        "dioxide_as_shown": lambda oxygen: most * (1 - oxygen / shown) if oxygen < shown else None,
        "wobbe_ratio": lambda value: ratio * _power(value / at, power),
    }


def _power(base: float, exponent: float) -> float:
    """A power near one, by the first terms of its series: alike on every machine."""
    x = exponent * natural_log(base)
    return 1 + x * (1 + x / 2 * (1 + x / 3 * (1 + x / 4 * (1 + x / 5))))


def _run_loss(flow: float, supply: Supply) -> float | None:
    if supply.pipe is None or flow <= 0:
        return None
    return friction_loss(flow, supply.pipe, supply.gas)


def doubt_of_law(flow: float, supply: Supply, turbulent: float) -> float:
    """How far the loss may be below that of turbulent flow, as a share of it.

    In the band where a flow may be smooth or turbulent the other calculators take the greater loss.
    How likely the smaller one is falls to nothing where every flow is turbulent.

    Args:
        flow: In m³/s.
        supply: The run and the gas in it.
        turbulent: Reynolds number from which every flow is.
    """
    if supply.pipe is None or flow <= 0:
        return 0.0
    reynolds = reynolds_number(flow, supply.pipe, supply.gas)
    transition = supply.gas.transition
    if not transition <= reynolds < turbulent:
        return 0.0
    roughness = supply.pipe.roughness / supply.pipe.bore
    greater = friction_factor(reynolds, roughness, transition)
    return (1 - 64 / reynolds / greater) * (turbulent - reynolds) / (turbulent - transition)


def _condensing(fuel: Fuel, ref: InForce) -> Callable[[float, float], float]:
    """Share of the net heat that condensing gives back, by the dry flue gas that leaves."""
    coefficients, pressure = saturation(ref), si(ref["reference_state.pressure"])

    def gained(flue: float, oxygen: float) -> float:
        if not FREEZING < flue < saturation_temperature(coefficients, pressure):
            return 0.0
        vapour = saturation_pressure(coefficients, flue)
        carried = fuel.dry_gas(oxygen) * vapour / (pressure - vapour)
        return fuel.latent * max(0.0, 1 - carried / fuel.water)

    return gained
