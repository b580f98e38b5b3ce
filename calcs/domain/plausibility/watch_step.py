"""A time against the watch that took it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.units import join_unit

# A step may count the hand in, which is slower than the display. No hand takes a second, so from
# there on the step is the display's, and nothing is read between two of them.
DISPLAY_FROM = 1.0
_ON_THE_STEP = 1e-6  # of a step, for what a float keeps of a typed number


def check_time(given: Mapping[str, Any], fields: tuple[str, ...]) -> None:
    """Refuse a time that the reader's own watch can't show.

    Raises:
        Impossible: The time falls between two steps of the watch.
    """
    step = given.get("stopwatch_resolution")
    if given["stopwatch"] != "own" or step is None or si(step) < DISPLAY_FROM:
        return
    for field in fields:
        if given.get(field) is None:
            continue
        steps = si(given[field]) / si(step)
        if abs(steps - round(steps)) > _ON_THE_STEP * max(1.0, steps):
            own, smallest = (
                join_unit(short_number(float(one.magnitude), 12), one.units)
                for one in (given[field], step)
            )
            raise Impossible(field, "between_steps_of_watch", typed=own, step=smallest)
