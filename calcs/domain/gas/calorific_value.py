"""Heat in a volume of gas as a form asks for it, and the figures that a flow of gas rests on."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.engine.declarations import STATED, Input, When
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

LOWEST = "gas.natural_gas.calorific_value_low"
HIGHEST = "gas.natural_gas.calorific_value_high"
RATIO = "gas.natural_gas.gross_to_net"
# What is sold as propane or butane is that gas with some of its neighbours in it. Propene, the
# leanest of them, is some 7 % below propane (from memory; ISO 6976 has both). A tenth is no mixture
# of these but another gas.
SOLD = 0.1
RANGE_USES = (LOWEST, HIGHEST, RATIO)
# In the order in which a page lists them.
FLOW_USES = (
    "gas.*.calorific_value_gross",
    "gas.*.density",
    "gas.*.viscosity",
    "gas.*.relative_density",
    "air.density",
    "physics.gravity",
)


def heat_in_volume(
    name: str,
    default: str | None = None,
    *,
    low: float = 30,
    when: When | None = None,
    uncertainty: str = STATED,
    good_to: str | None = None,
) -> Input:
    """The field of a calorific value or a Wobbe number, from bills, labels and gas analyses.

    Args:
        name: Parameter of the formula.
        default: Figure used when it is left empty.
        low: Smallest value that the form accepts, in MJ/m³.
        when: The choice under which it counts.
        uncertainty: `STATED` or `WRITTEN`.
        good_to: Input with the share of it that it is good to within.
    """
    return Input(
        name,
        "MJ/m**3",
        low=low,
        high=150,
        also=("kWh/m**3", "Btu/ft**3"),
        default=default,
        when=when,
        uncertainty=uncertainty,
        good_to=good_to,
    )


def range_of(gas: str, basis: str, ref: Mapping[str, Q]) -> tuple[Q, Q]:
    """The least and the greatest calorific value that the gas can have.

    Args:
        gas: "natural_gas", "propane" or "butane".
        basis: "gross" or "net".
        ref: Uses the range of the network, or the value of the pure gas.
    """
    if gas == "natural_gas":
        over = ref[RATIO] if basis == "net" else 1
        return ref[LOWEST] / over, ref[HIGHEST] / over
    pure = ref[f"gas.{gas}.calorific_value_{basis}"]
    return pure * (1 - SOLD), pure * (1 + SOLD)


def range_text(gas: str, basis: str, ref: Mapping[str, Q]) -> dict[str, str]:
    """The ends of that range in whole MJ/m³, as a sentence says them: `low` and `high`."""
    ends = zip(("low", "high"), range_of(gas, basis, ref), strict=True)
    return {name: join_unit(f"{end.to('MJ/m**3').magnitude:.0f}", "MJ/m**3") for name, end in ends}


def is_unlike(value: Q, gas: str, basis: str, ref: Mapping[str, Q]) -> bool:
    """Whether a calorific value belongs to another gas, or to the other basis.

    With that of another gas a burner at more than twice its input meets its plate.
    """
    least, most = range_of(gas, basis, ref)
    return not si(least) * (1 - 1e-9) <= si(value) <= si(most) * (1 + 1e-9)
