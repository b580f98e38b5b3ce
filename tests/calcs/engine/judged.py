"""The comparisons of a request before they are put into words, for tests of how they are judged."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from calcs.bridge import Bridge
from calcs.engine import answer as answering
from calcs.engine import read_inputs
from calcs.engine.errors import Refusal, Refused
from calcs.engine.findings import Compare, Ruling
from calcs.engine.given import Given
from calcs.engine.in_force import InForce
from calcs.engine.registry import calculators, labels


def judged(
    bridge: Bridge, request: Mapping[str, Any]
) -> tuple[list[Compare | Ruling], Given] | None:
    """The verdicts of a request with what was given; None where it is refused."""
    calculator = calculators()[request["calculator"]]
    words = labels(calculator, bridge.reference)
    typed = request["inputs"]
    try:
        on = read_inputs.day_of_test(typed, date.fromisoformat(request["today"]))
        given = read_inputs.read(
            calculator, words, typed, InForce(bridge.reference, on, request["overrides"])
        )
        results = answering._computed(calculator, given, words)
        found = answering._findings(calculator, given, results)
    except (Refusal, Refused):
        return None
    return [one for one in found if isinstance(one, Compare | Ruling)], given
