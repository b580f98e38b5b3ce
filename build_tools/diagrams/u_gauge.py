"""A water U-gauge: standing at zero, or showing a pressure that is read on both limbs and added."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import SMALL, Sheet
from calcs.engine.rounding import short_number

PARAMS = {"pressure": FigureName(optional=True)}
LEFT, RIGHT, BORE = 150.0, 210.0, 18.0  # middles of the two limbs, and how wide they are
TOP, ZERO, FOOT = 44.0, 154.0, 268.0  # open ends, level at rest, where the bend begins
TRAVEL = 92.0  # how far the water may move on the sheet
UNIT = "mbar"


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the gauge, its scale, and the two readings where there is a pressure."""
    sheet.height = 346 if params["pressure"] else 314
    name = params["pressure"]
    each = figures.number(name, UNIT) / 2 if name else 0.0
    widest = max(10.0, each + 2)
    moved = each * TRAVEL / widest
    _water(sheet, moved)
    _glass(sheet)
    _scale(sheet, widest)
    sheet.text(141, 30, "Test point" if name else "Tube left open", anchor="end")
    sheet.text(219, 30, "Open to the air")
    if not name:
        sheet.lines(232, 150, ("Both limbs", "level at zero"), bold=True)
        return
    _reading(sheet, "down", LEFT - BORE / 2 - 10, moved, each)
    _reading(sheet, "up", RIGHT + BORE / 2 + 10, -moved, each)
    sheet.text(180, 334, f"Add both: {figures.text(name)}", anchor="middle", bold=True)


def _water(sheet: Sheet, moved: float) -> None:
    half, outer, inner = BORE / 2, (RIGHT - LEFT + BORE) / 2, (RIGHT - LEFT - BORE) / 2
    low, high = ZERO + moved, ZERO - moved
    inside = (
        f"M{LEFT - half} {low} H{LEFT + half} V{FOOT} A{inner} {inner} 0 0 0 {RIGHT - half} {FOOT}"
    )
    outside = f"V{high} H{RIGHT + half} V{FOOT} A{outer} {outer} 0 0 1 {LEFT - half} {FOOT}z"
    sheet.path("water", f"{inside} {outside}")


def _glass(sheet: Sheet) -> None:
    half, outer, inner = BORE / 2, (RIGHT - LEFT + BORE) / 2, (RIGHT - LEFT - BORE) / 2
    for radius, side in ((outer, half), (inner, -half)):
        sheet.path(
            "line",
            f"M{LEFT - side} {TOP} V{FOOT} A{radius} {radius} 0 0 0 {RIGHT + side} {FOOT} V{TOP}",
        )
    sheet.path("tube", f"M{LEFT} {TOP + 6} V22 C{LEFT} 8 120 6 90 6 H40")


def _scale(sheet: Sheet, widest: float) -> None:
    """Marks between the limbs, one for each unit, and a figure at each fifth."""
    middle = (LEFT + RIGHT) / 2
    step = TRAVEL / widest
    for mark in range(-int(widest), int(widest) + 1):
        level = ZERO - mark * step
        if mark % 5 == 0:
            sheet.polyline("fine", (LEFT + BORE / 2 + 2, level), (middle - 10, level))
            sheet.polyline("fine", (middle + 10, level), (RIGHT - BORE / 2 - 2, level))
            sheet.text(middle, level + 5, str(abs(mark)), anchor="middle", size=SMALL)
            continue
        sheet.polyline("fine", (LEFT + BORE / 2 + 2, level), (LEFT + BORE / 2 + 6, level))
        sheet.polyline("fine", (RIGHT - BORE / 2 - 6, level), (RIGHT - BORE / 2 - 2, level))


def _reading(sheet: Sheet, way: str, x: float, moved: float, each: float) -> None:
    sheet.polyline("fine", (x - 6, ZERO), (x + 6, ZERO))
    sheet.polyline("fine", (x - 6, ZERO + moved), (x + 6, ZERO + moved))
    sheet.arrow("mark", (x, ZERO), (x, ZERO + moved), head=10)
    anchor, edge = ("end", x - 10) if way == "down" else ("start", x + 10)
    middle = ZERO + moved / 2
    sheet.text(
        edge, middle, f"{short_number(each, 4)}\N{NO-BREAK SPACE}{UNIT}", anchor=anchor, bold=True
    )
    sheet.text(edge, middle + 18, way, anchor=anchor)
