"""What the pressures of a supply can be: at the inlet, standing, and behind the gas valve."""

from __future__ import annotations

from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

LEAST_SHARE = 0.5  # of the nominal pressure of the supply
ROUNDING_TOLERANCE = 1e-6  # Pa, for the last digits of a float
GOVERNING = "governing"  # the verdict on a burner pressure beside the inlet's
GOVERNING_RULINGS = ("governs_nothing", "hardly_below_inlet")


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


def governing(reading: Q, inlet: Q) -> Ruling | None:
    """That a gas valve governs nothing; None where the burner is clearly below the inlet.

    A valve that governs takes some of the pressure, of whatever gas. Where none is gone, it stands
    open, or the gauge is on the wrong test point.

    Args:
        reading: Burner pressure. [mbar]
        inlet: Working pressure at the appliance inlet at that moment. [mbar]
    """
    taken = inlet - reading
    values = {"reading": shown(reading, 1), "inlet": shown(inlet, 1)}
    if si(taken) <= ROUNDING_TOLERANCE:
        return Ruling(GOVERNING, "does_not_meet", "governs_nothing", values=values)
    if taken <= expanded(taken):
        return Ruling(GOVERNING, "cannot_tell", "hardly_below_inlet", values=values)
    return None
