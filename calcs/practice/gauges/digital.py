"""A digital gauge: what it shows, with its decimals, its unit and the sign of a low battery."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.engine.units import unit_text
from calcs.practice.gauges import segments
from calcs.practice.gauges.sheet import SMALL, Sheet

LEFT, RIGHT = 20.0, 340.0
HEIGHT = 122.0


def words(given: Mapping[str, str]) -> str:
    """What the display shows, as it stands there."""
    number, unit = _shown(given)
    battery = " The sign for a low battery is on." if given.get("battery") == "low" else ""
    shows = f"the display shows {number.replace('-', 'minus ')} {unit}".removesuffix(".")
    return f"A digital gauge. {given['when']}: {shows}.{battery}"


def _shown(given: Mapping[str, str]) -> tuple[str, str]:
    number, _, unit = given["shows"].partition(" ")
    return number, unit_text(unit)


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw one display.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `shows`, number and unit; `when` it shows that; `battery`, low where it is.
        solved: The display is marked.
    """
    sheet.begin(HEIGHT)
    number, unit = _shown(given)
    sheet.text(LEFT, 18, given["when"], size=SMALL, bold=True)
    sheet.rect("mark_body" if solved else "body", (LEFT, 28), RIGHT - LEFT, 76, corner=10)
    segments.number(sheet, RIGHT - 84, 44, number)
    sheet.text(RIGHT - 70, 88, unit, bold=True, size=20, name="unit")
    if given.get("battery") == "low":
        sheet.rect("fine", (LEFT + 12, 42), 26, 13)
        sheet.rect("solid", (LEFT + 38, 45), 3, 7)
        sheet.rect("solid", (LEFT + 14, 44), 5, 9)
