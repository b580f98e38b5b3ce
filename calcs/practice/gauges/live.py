"""A digital gauge in the reader's hands: zeroed, its tube pushed on, read.

Each thing that can be done leads from one state to another, and each state has its drawing. So a
page needs to know nothing of gauges, and what is drawn is drawn in one place.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from calcs.practice.figures import Values, join, split
from calcs.practice.gauges import digital
from calcs.practice.gauges.sheet import Sheet

OFF, ON = "Tube open to the air", "On the test point"
ZERO = "Zero it"
# What is done with the tube where it is now.
TUBE = {OFF: "Push the tube on", ON: "Pull the tube off"}
# How far the display is off: as it was found, zeroed in the air, zeroed with the pressure on it.
FOUND, ZEROED, PRESSED = "found", "zeroed", "pressed"


def bench(given: Mapping[str, str], values: Values) -> dict[str, Any]:
    """All that can be done with a gauge, and what it then shows.

    Args:
        given: Which figures are the `zero` that it was found with and the `pressure`.
        values: The figures.

    Returns:
        `start`, the name of a state, and `states` by name: `svg`, `words` for whoever does not see
        it, and `acts`, each with its `text` and the state that it leads `to`.
    """
    zero, unit = split(values[given["zero"]])
    pressure, _ = split(values[given["pressure"]])
    by = {FOUND: zero, ZEROED: zero - zero, PRESSED: -pressure}
    states = {
        _name(tube, off): _state(tube, off, by[off] + (pressure if tube == ON else 0), unit)
        for tube in TUBE
        for off in by
    }
    return {"start": _name(OFF, FOUND), "states": states}


def _name(tube: str, off: str) -> str:
    return f"{'on' if tube == ON else 'off'}_{off}"


def _state(tube: str, off: str, shows: Decimal, unit: str) -> dict[str, Any]:
    shown = {"shows": join(shows, unit), "when": tube}
    sheet = Sheet()
    digital.draw(sheet, shown, solved=False)
    words = digital.words(shown)
    zeroed = _name(tube, PRESSED if tube == ON else ZEROED)
    moved = _name(OFF if tube == ON else ON, off)
    acts = [{"text": ZERO, "to": zeroed}, {"text": TUBE[tube], "to": moved}]
    return {"svg": sheet.svg(words), "words": words, "acts": acts}
