"""How long a tightness test must last, and whether it did."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.tightness.starting_pressure import ROUNDING_TOLERANCE
from calcs.engine.errors import Impossible, NotInForce
from calcs.engine.findings import Note, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.units import Q, at_most, join_unit, parse_quantity


def in_minutes(period: Q) -> str:
    """A period as it is shown in a sentence."""
    return join_unit(round_half_up(float(period.to("min").magnitude), 1), "min")


def period_of(given: Mapping[str, Any], ref: Any) -> Q | None:
    """Length that the procedure asks for: held, or from the reader's copy. None where neither is.

    Raises:
        Impossible: The reader's figure is shorter than any length held.
    """
    name, typed = f"tightness.test_period.{given['gas']}", given["own_period"]
    held = ref[name] if ref.held(name) else None
    if held is None and typed is None:
        return None
    if typed is not None and held is None:
        ref.override(name, typed)
    known = [one for one in (held, typed) if one is not None]
    period = max(known, key=si)
    shortest = _shortest(given["gas"], ref)
    for one in known:
        if si(one) < si(shortest) * (1 - ROUNDING_TOLERANCE):
            typed_as, least = in_minutes(one), in_minutes(shortest)
            raise Impossible("own_period", "shorter_than_any", typed=typed_as, shortest=least)
    return period


def _shortest(gas: str, ref: Any) -> Q:
    """Shortest test that any edition held here asks for: that of the gas, else that of any."""
    own = list(_held((f"tightness.test_period.{gas}",), ref))
    names = sorted(one for one in ref.reference.names if one.startswith("tightness.test_period."))
    return min(own or _held(names, ref), key=si)


def _held(names: Any, ref: Any) -> list[Q]:
    dated_values = [dated_value for name in names for dated_value in ref.reference.history(name)]
    return [
        parse_quantity(dated_value.value)
        for dated_value in dated_values
        if dated_value.value is not None
    ]


def too_little_time(given: Mapping[str, Any], ref: Any) -> Ruling | None:
    """Why the length of the test passes nothing; None where it was kept."""
    period, elapsed = period_of(given, ref), given["elapsed"]
    name = f"tightness.test_period.{given['gas']}"
    if period is None:
        return Ruling("tightness", "not_judged", "period_not_held", (name,), _edition(name, ref))
    values = {"period": in_minutes(period)}
    if elapsed is None:
        return Ruling("tightness", "not_judged", "no_length", (name,), values)
    if not at_most(period, elapsed):
        return Ruling("tightness", "not_judged", "short", (name,), values)
    return None


def _edition(name: str, ref: Any) -> dict[str, str]:
    try:
        return {"edition": ref.dated_value(name).edition or ""}
    except NotInForce:
        return {"edition": ""}


def length_notes(given: Mapping[str, Any], ref: Any) -> list[Note]:
    """That a test was shorter than its procedure asks for."""
    period, elapsed = period_of(given, ref), given["elapsed"]
    if period is None or elapsed is None or at_most(period, elapsed):
        return []
    return [Note("short_test", {"period": in_minutes(period)})]
