"""An ordinary instrument as the yardstick: what one of those held here leaves open at a reading."""

from __future__ import annotations

from typing import Any

from calcs.engine.uncertainty import COVERAGE, reading_uncertainty
from calcs.engine.units import Q, parse_quantity


def ordinary(instrument: str, at: Q, ref: Any) -> Q:
    """Expanded uncertainty of an instrument of the handbook that shows `at`.

    Args:
        instrument: Id in data/instruments.yaml.
        at: What it shows.
        ref: The figures, which know the instruments.
    """
    held = ref.reference.instruments[instrument]
    step, accuracy = (parse_quantity(held[one]["value"]) for one in ("resolution", "accuracy"))
    expanded_uncertainty: Q = COVERAGE * reading_uncertainty(at, step, accuracy)
    return expanded_uncertainty


def coarsest(measures: str, at: Q, ref: Any) -> Q:
    """The same of the instrument that leaves most open there, of all that measure one thing."""
    held = ref.reference.instruments.items()
    return max(ordinary(name, at, ref) for name, one in held if _is(one, measures))


def coarsest_step(measures: str, ref: Any) -> Q:
    """Greatest smallest step of all the instruments that measure one thing."""
    held = ref.reference.instruments.values()
    steps = (parse_quantity(one["resolution"]["value"]) for one in held if _is(one, measures))
    return max(steps)


def _is(instrument: Any, measures: str) -> bool:
    return bool(instrument["measures"] == measures)
