"""What a fall of pressure means as a leak."""

from __future__ import annotations

from typing import Any

from calcs.engine.units import Q


def period_of(procedure: str, gas: str, ref: Any) -> Q | None:
    """Length of the test by the procedure, where it is held and none was typed."""
    name = f"tightness.test_period.{gas}"
    return ref[name] if procedure == "small" and ref.held(name) else None


def leak_rate_of(volume: Q, fall: Q, period: Q, temperature: Q, ref: Any) -> Q:
    """What the fall means as gas at the reference state: an ideal gas in a closed volume."""
    colder = ref["reference_state.temperature"].to("kelvin") / temperature
    lost = volume * fall / ref["reference_state.pressure"] * colder
    return (lost / period).to("litre/h")
