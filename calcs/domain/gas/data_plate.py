"""What a data plate says, for every calculator that asks for it."""

from __future__ import annotations

from typing import Any

from calcs.engine.declarations import STATED, Input
from calcs.engine.errors import Impossible, InputName
from calcs.engine.traced import si
from calcs.engine.units import Q, Quantity


def _plate(name: str) -> Input:
    return Input(name, "kW", low=0.5, high=5000, also=("Btu/h",), optional=True, uncertainty=STATED)


PLATE_INPUT = _plate("plate_input")
# A field for each basis: no figure can then be taken on the other one.
PLATE_INPUT_GROSS = _plate("plate_input_gross")

APART = "heat_input.bases_apart"
GASES = ("natural_gas", "propane", "butane")
RATIO = "gas.{}.gross_to_net"
BASES_USED = (APART, *(RATIO.format(gas) for gas in GASES))
TINY = 1e-9  # the last digits of a float


def check_bases(net: Q | None, gross: Q | None, ref: Any) -> None:
    """Refuse two heat inputs that no gas makes of one another.

    Args:
        net: Of the plate. [kW]
        gross: Of the same plate. [kW]
        ref: Uses the ratios of gross to net, and how far a plate may be from them.

    Raises:
        Impossible: Gross is more or less than net times the ratio of any gas, besides the width
            that is held and the last digits of both.
    """
    if net is None or gross is None:
        return
    ratios = [si(ref[RATIO.format(gas)]) for gas in GASES]
    width = si(ref[APART])
    half_net, half_gross = (_half_of_last(each) for each in (net, gross))
    least = (min(ratios) * (1 - width)) * (si(net) - half_net)
    most = (max(ratios) * (1 + width)) * (si(net) + half_net)
    if not least * (1 - TINY) <= si(gross) + half_gross or not si(gross) - half_gross <= most * (
        1 + TINY
    ):
        raise Impossible("plate_input_gross", "bases_apart", net=InputName("plate_input"))


def _half_of_last(value: Q) -> float:
    places = getattr(value, "typed_places", None) or 0
    return float(si(Quantity(0.5 * 10.0**-places, value.units)))
