"""What the pressures of a supply can be: a lowest inlet that makes sense, and the lock-up."""

from __future__ import annotations

from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

LEAST_SHARE = 0.5  # of the nominal pressure of the supply


def shown(pressure: Q, places: int) -> str:
    """A pressure as a sentence has it."""
    return join_unit(round_half_up(float(pressure.to("mbar").magnitude), places), "mbar")


def check_least(least: Q | None, nominal: Q) -> None:
    """Refuse a lowest inlet pressure with which next to nothing would pass.

    Raises:
        Impossible: It is below half of what the gas is supplied at.
    """
    if least is not None and si(least) < LEAST_SHARE * si(nominal):
        raise Impossible("least_inlet", "below_half_of_supply", supply=shown(nominal, 0))


def lock_up(provenance: Q, low: Q, ref: Any) -> Finding:
    """What the regulator closed at; where hardly any gas comes it says nothing of the regulator."""
    limit = "working_pressure.lock_up_high"
    if si(provenance) < si(low):
        return Ruling("lock_up", "not_judged", "supply_too_low", (limit,), {"low": shown(low, 1)})
    return Compare("lock_up", provenance, None, ref[limit], (limit,))
