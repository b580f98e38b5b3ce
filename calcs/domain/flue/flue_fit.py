"""Whether a flue gas sample can be true: one test for every calculator that takes a sample.

Oxygen and carbon dioxide of one sample lie on the line of the fuel, however much air is with it. A
sample that is off the line by more than the uncertainty of the two judges nothing, and neither does
one that can't be told from air.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from calcs.domain.gas.gas_mixture import components, held_mixture
from calcs.domain.gas.stoichiometry import AIR_OXYGEN, Burning, burn
from calcs.domain.plausibility.ordinary import ordinary
from calcs.engine.errors import Impossible
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import Traced, named, si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, Quantity, join_unit

INSTRUMENT_OXYGEN = "combustion.air_oxygen_instrument"
ANALYSERS = ("analyser_oxygen", "analyser_carbon_dioxide")
FIT_REFUSALS = ("sample_is_air", "sample_misfit", "dioxide_without_carbon")
MISFIT, AIR = "sample_misfit", "sample_is_air"  # reasons why a sample judges nothing


def fit(
    burning: Burning, fuel: str, readings: tuple[Q, Q], ref: InForce, monoxide: Q | None = None
) -> dict[str, Q]:
    """Oxygen and carbon dioxide of one sample held against the line of the fuel.

    Args:
        burning: What the fuel needs and leaves.
        fuel: Its name.
        readings: Oxygen and carbon dioxide.
        ref: Uses the make-up of air.
        monoxide: Carbon monoxide of the same sample: carbon that made no carbon dioxide.
    """
    oxygen, carbon_dioxide = readings
    air, instrument_air = ref[AIR_OXYGEN], ref[INSTRUMENT_OXYGEN]
    most = burning.carbon_dioxide_max + _spread(burning, fuel, ref)
    expected = (air * (1 - carbon_dioxide / most)).to("percent")
    if monoxide is not None:
        expected = expected + _unburnt(monoxide, burning, ref)
    implied = carbon_dioxide * instrument_air / (instrument_air - oxygen)
    return {
        "oxygen_expected": expected,
        "oxygen_difference": oxygen - expected,
        "implied_maximum": implied.to("percent"),
    }


def agrees(difference: Q, readings: tuple[Q, Q], ref: InForce) -> bool:
    """Whether oxygen and carbon dioxide fit the fuel, within the uncertainty of both."""
    return si(abs(difference)) <= allowed(difference, readings, ref)


def allowed(difference: Q, readings: tuple[Q, Q], ref: InForce) -> float:
    """How far the two may be apart: their uncertainty, as far as an ordinary analyser has it.

    A coarse cell would let anything fit. The uncertainty is cut back by as much as the coarser of
    the two is coarser than an ordinary one, which is never more than such an analyser would leave.

    Args:
        difference: Oxygen read, less what fits the carbon dioxide.
        readings: Oxygen and carbon dioxide.
        ref: Uses the instruments.
    """
    shares = [1.0]
    for analyser, reading in zip(ANALYSERS, readings, strict=True):
        own = si(expanded(reading))
        if own > 0:
            shares.append(si(ordinary(analyser, reading, ref)) / own)
    return si(expanded(difference)) * min(shares)


def is_air(oxygen: Q | None, carbon_dioxide: Q | None, ref: Mapping[str, Q]) -> bool:
    """Whether the sample can't be told from air: no oxygen is gone, or no carbon dioxide came."""
    if carbon_dioxide is not None and si(carbon_dioxide) <= si(expanded(carbon_dioxide)):
        return True
    if oxygen is None:
        return False
    return si(ref[INSTRUMENT_OXYGEN]) - si(oxygen) <= si(expanded(oxygen))


def exceeds(burning: Burning, fuel: str, carbon_dioxide: Q, ref: InForce) -> bool:
    """Whether there is more carbon dioxide than the fuel can make, by more than the uncertainty."""
    excess = carbon_dioxide - (burning.carbon_dioxide_max + _spread(burning, fuel, ref))
    return si(excess) > si(expanded(excess))


def why_untrue(
    difference: Q | None, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce
) -> str:
    """Id of the reason why the sample judges nothing; empty for one that can be true.

    Args:
        difference: Oxygen read, less what fits the carbon dioxide; None where only one was read.
        oxygen: As read.
        carbon_dioxide: As read.
        ref: Uses what analysers take for air.
    """
    if oxygen is not None and carbon_dioxide is not None and difference is not None:
        fits = agrees(difference, (oxygen, carbon_dioxide), ref)
        if not fits:
            return MISFIT
    return AIR if is_air(oxygen, carbon_dioxide, ref) else ""


def check_sample(
    burning: Burning, fuel: str, oxygen: Q | None, carbon_dioxide: Q | None, ref: InForce
) -> None:
    """Refuse a sample that can't be true, where nothing can be worked out from it.

    Raises:
        Impossible: Oxygen and carbon dioxide contradict each other, or the sample is air.
    """
    if oxygen is not None and carbon_dioxide is not None:
        _check_fit(burning, fuel, (oxygen, carbon_dioxide), ref)
    by_dioxide = carbon_dioxide is not None and is_air(None, carbon_dioxide, ref)
    if by_dioxide or is_air(oxygen, None, ref):
        raise Impossible("carbon_dioxide" if by_dioxide else "oxygen", "sample_is_air")


def _check_fit(burning: Burning, fuel: str, readings: tuple[Q, Q], ref: InForce) -> None:
    if burning.carbon_dioxide_max.magnitude <= 0:
        raise Impossible("carbon_dioxide", "dioxide_without_carbon")
    oxygen, instrument_air = readings[0], ref[INSTRUMENT_OXYGEN]
    if oxygen >= instrument_air:
        return  # air, as is said of it next
    difference = fit(burning, fuel, readings, ref)["oxygen_difference"]
    if agrees(difference, readings, ref):
        return
    off, most = (
        join_unit(round_half_up(100 * one, 1), "percent")
        for one in (abs(si(difference)), allowed(difference, readings, ref))
    )
    raise Impossible("oxygen", "sample_misfit", off=off, expanded=most)


def duct_fits(oxygen_short: Q, carbon_dioxide: Q, ref: Mapping[str, Q]) -> bool:
    """Whether the oxygen that is missing from air and the carbon dioxide in it are of one story.

    The fuel is not asked for: its line lies between those of natural gas and of butane.
    """
    air = ref[INSTRUMENT_OXYGEN]
    most = [ref[f"combustion.carbon_dioxide_max.{gas}"] for gas in ("natural_gas", "butane")]
    steep, flat = (oxygen_short - air * carbon_dioxide / one for one in most)
    too_much = si(steep) > si(expanded(steep))
    too_little = -si(flat) > si(expanded(flat))
    return not (too_much or too_little)


def _spread(burning: Burning, fuel: str, ref: InForce) -> Traced:
    """How far natural gas may be from the one taken: as far as pure methane is from it."""
    width = 0.0
    if fuel == "natural_gas":
        methane = burn(held_mixture(components(ref), "G20", ref), ref)
        width = abs(si(methane.carbon_dioxide_max) - si(burning.carbon_dioxide_max))
    return _uncertainty("spread", "spread of natural gas", width)


def _unburnt(monoxide: Q, burning: Burning, ref: InForce) -> Traced:
    """What carbon monoxide may take from the oxygen that fits: all of it, or nothing.

    An analyser that measures carbon dioxide misses the carbon in the monoxide; one that works
    carbon dioxide out from oxygen does not. A part of monoxide stands for a part of carbon dioxide
    less and half a part of oxygen more, and half a part of dry flue gas.
    """
    air, most = si(ref[AIR_OXYGEN]), si(burning.carbon_dioxide_max)
    width = si(monoxide) * (air / most + air / 2 - 0.5)
    return _uncertainty("unburnt", "oxygen that carbon monoxide may stand for", abs(width))


def _uncertainty(name: str, label: str, half_width: float) -> Traced:
    """Nothing, give or take a half-width (JCGM 100, 4.3.7)."""
    uncertainty = named(Quantity(0.0, "percent"), name, label, role="figure")
    uncertainty.standard_uncertainty = Quantity(half_width / math.sqrt(3), "")
    return uncertainty
