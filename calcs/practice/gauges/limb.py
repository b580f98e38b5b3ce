"""One limb of a water gauge from near by: tenths of a unit, and the curve of the water's edge."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from calcs.practice.gauges.sheet import Point, Sheet

LEFT, RIGHT = 120.0, 240.0  # of the glass
TOP, STEP, MARKS = 30.0, 12.0, 20  # tenths of a unit: so wide that they can be read on paper
EDGE = 2  # tenths by which the water stands up at the glass
HEIGHT = 330.0


def words(given: Mapping[str, str]) -> str:
    """Where the edge and the foot of the curve stand: which of them counts is not said."""
    number, _, unit = given["level"].partition(" ")
    edge = Decimal(number) + Decimal(EDGE) / 10
    return (
        f"One limb of a water gauge, from near by. Its scale goes up in tenths of 1 {unit}. At the "
        f"glass the water's edge stands at {edge:.1f}, and the foot of its curve at {number}."
    )


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw the piece of the limb round its level.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `level`, with its unit.
        solved: With a line from the foot of the curve to the scale.
    """
    sheet.begin(HEIGHT)
    number, _, unit = given["level"].partition(" ")
    level = Decimal(number)
    lowest = Decimal(int(level - Decimal("0.5")))  # a whole unit, a good way under the level

    def height(value: Decimal) -> float:
        return TOP + STEP * (MARKS - float((value - lowest) * 10))

    foot, end = height(level), TOP + STEP * MARKS + 30
    edge = foot - EDGE * STEP
    middle = (LEFT + RIGHT) / 2
    bowl: list[str | Point] = ["M", (LEFT, edge), "Q", (middle, 2 * foot - edge), (RIGHT, edge)]
    sheet.curve("water", [*bowl, "L", (RIGHT, end), "L", (LEFT, end), "z"])
    sheet.curve("line", bowl, name="surface")
    for x in (LEFT, RIGHT):
        sheet.path("line", (x, 10), (x, end))
    marks: list[str | Point] = []
    for mark in range(MARKS + 1):
        value = lowest + Decimal(mark) / 10
        far = 34 if mark % 10 == 0 else 24 if mark % 5 == 0 else 16
        y = height(value)
        marks += ["M", (RIGHT + 3, y), "L", (RIGHT + 3 + far, y)]
        if mark % 5 == 0:
            sheet.text(RIGHT + 44, y + 5, f"{value:.1f}", bold=mark % 10 == 0, name="figure")
    sheet.curve("fine", marks, name="marks")
    sheet.text(RIGHT + 44, TOP - 14, unit, bold=True)
    if solved:
        sheet.path("broken", (LEFT - 30, foot), (RIGHT + 40, foot))
        sheet.text(LEFT - 36, foot + 6, number, anchor="end", bold=True, look="mark_fill")
