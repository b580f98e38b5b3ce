"""A water gauge: two limbs, a scale with nought in the middle, water that may be filled unequally.

Levels are in the gauge's own unit, above nought or below it. The water's edge stands up at the
glass, and its level is where the foot of that curve is.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from calcs.practice.gauges.sheet import SMALL, Point, Sheet

Curve = list[str | Point]
LEFT, RIGHT, BORE = 132.0, 228.0, 24.0  # middles of the limbs, and how wide they are
OPEN, NOUGHT, BEND = 34.0, 190.0, 340.0  # the open ends, the middle of the scale, the bend
HIGHEST, STEP = 14, 10.0  # of the scale, and how far its marks stand apart
EDGE = 3.0  # by which the water stands up at the glass
HEIGHT = 404.0
SLANT = 0.1405  # tangent of eight degrees
DEGREES = 8


def words(given: Mapping[str, str]) -> str:
    """What is seen, limb by limb: whoever reads this still has to add."""
    limbs = [f"In the {side} limb {_stands(given[side])}." for side in ("left", "right")]
    tube = given.get("tube", "left")
    ends = "Both ends are open to the air."
    if tube != "none":
        ends = f"The tube from the test point is on the {tube} limb."
    slant = " The gauge hangs at a slant." if given.get("slant") == "yes" else ""
    scale = f"A water gauge. Its scale has nought in the middle and steps of 1{_unit(given)}."
    return " ".join([f"{scale}{slant}", ends, *limbs])


def _stands(level: str) -> str:
    value = Decimal(level.partition(" ")[0])
    if value == 0:
        return "the water stands at nought"
    return f"the water stands at {abs(value):f} {'above' if value > 0 else 'below'} nought"


def _unit(given: Mapping[str, str]) -> str:
    unit = given["left"].partition(" ")[2]
    return f"\N{NO-BREAK SPACE}{unit}" if unit else ""


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw it; `solved` with what has to be seen on it.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `left` and `right`, the levels; `tube`, the limb on the test point, or none; `slant`.
        solved: With both levels measured out.
    """
    sheet.begin(HEIGHT)
    place = len(sheet.parts)
    levels = {side: float(given[side].partition(" ")[0]) for side in ("left", "right")}
    slope = SLANT if given.get("slant") == "yes" else 0.0
    _water(sheet, levels, slope)
    _glass(sheet)
    _scale(sheet, given["left"].partition(" ")[2])
    _tube(sheet, given.get("tube", "left"))
    if solved:
        _dimension(sheet, levels["left"], LEFT - BORE / 2 - 20, "end")
        _dimension(sheet, levels["right"], RIGHT + BORE / 2 + 20, "start")
    if slope:
        turned = f'<g transform="rotate({DEGREES} 180 {sheet.top + NOUGHT:g})">'
        sheet.parts[place:] = [turned, *sheet.parts[place:], "</g>"]


def _y(level: float) -> float:
    return NOUGHT - level * STEP


def _water(sheet: Sheet, levels: Mapping[str, float], slope: float) -> None:
    """The water, and a line for the foot of its curve in each limb."""
    inner = (RIGHT - LEFT - BORE) / 2
    left = _surface(LEFT, _y(levels["left"]), slope)
    right = _surface(RIGHT, _y(levels["right"]), slope)
    within: Curve = ["L", (LEFT + BORE / 2, BEND), _bend(inner, 0), (RIGHT - BORE / 2, BEND)]
    around: Curve = [
        "L",
        (RIGHT + BORE / 2, BEND),
        _bend(inner + BORE, 1),
        (LEFT - BORE / 2, BEND),
        "z",
    ]
    sheet.curve("water", ["M", *left, *within, "L", *right, *around])
    sheet.curve("line", ["M", *left], name="left")
    sheet.curve("line", ["M", *right], name="right")


def _surface(x: float, y: float, slope: float) -> Curve:
    """The water's curve from one side of a limb to the other. It stays level at a slant."""
    half = BORE / 2
    start, end = (x - half, y - EDGE + slope * half), (x + half, y - EDGE - slope * half)
    return [start, "Q", (x, y + EDGE), end]


def _bend(radius: float, way: int) -> str:
    """Half a circle to the point that follows."""
    return f"A{radius:g} {radius:g} 0 0 {way} "


def _glass(sheet: Sheet) -> None:
    half, inner = BORE / 2, (RIGHT - LEFT - BORE) / 2
    for radius, side in ((inner + BORE, half), (inner, -half)):
        down: Curve = ["M", (LEFT - side, OPEN), "L", (LEFT - side, BEND), _bend(radius, 0)]
        sheet.curve("line", [*down, (RIGHT + side, BEND), "L", (RIGHT + side, OPEN)])


def _scale(sheet: Sheet, unit: str) -> None:
    """Marks between the limbs, one for each unit, a longer one and a figure at each second."""
    middle = (LEFT + RIGHT) / 2
    marks: Curve = []
    for mark in range(-HIGHEST, HIGHEST + 1):
        y, far = _y(mark), 16 if mark % 2 == 0 else 9
        for limb, way in ((LEFT, 1), (RIGHT, -1)):
            start = limb + way * (BORE / 2 + 2)
            marks += ["M", (start, y), "L", (start + way * far, y)]
        if mark % 2 == 0:
            figure = str(abs(mark))
            sheet.text(middle, y + 5, figure, anchor="middle", size=SMALL, name="figure")
    sheet.curve("fine", marks, name="marks")
    sheet.text(middle, 24, unit, anchor="middle", bold=True)


def _tube(sheet: Sheet, limb: str) -> None:
    """The tube on its limb, and what each end is open to."""
    for side, x, way in (("left", LEFT, -1), ("right", RIGHT, 1)):
        is_joined = side == limb
        if is_joined:
            sheet.path("line", (x, OPEN), (x, 14), (x + way * 60, 14))
        anchor = "end" if way < 0 else "start"
        text = "Test point" if is_joined else "Open"
        sheet.text(x + way * 20, 52, text, anchor=anchor, size=SMALL)


def _dimension(sheet: Sheet, level: float, x: float, anchor: str) -> None:
    sheet.path("broken", (LEFT - 44, NOUGHT), (RIGHT + 44, NOUGHT))
    if level:
        sheet.arrow((x, NOUGHT), (x, _y(level)))
    edge = x - 12 if anchor == "end" else x + 12
    text = f"{abs(level):.2f}".rstrip("0").rstrip(".")
    sheet.text(edge, (NOUGHT + _y(level)) / 2 + 6, text, anchor=anchor, bold=True, look="mark_fill")
