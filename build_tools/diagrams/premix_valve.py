"""A generic premix burner: fan, venturi, and a gas valve that follows the air.

It is nobody's valve. Real ones put the same parts in other places, and the words with it say so.
"""

from typing import Any

from build_tools.diagrams.flue_parts import flames
from build_tools.diagrams.given import Figures, SomeOf
from build_tools.diagrams.kit import SMALL, Sheet

PARTS = ("throttle", "offset", "venturi", "fan", "inlet_test_point")
PARAMS = {"highlight": SomeOf(PARTS)}
AIR = 118.0  # level of the middle of the air's way
VALVE_LEFT, VALVE_TOP, VALVE_RIGHT, VALVE_FOOT = 84.0, 206.0, 204.0, 280.0
THROAT = 130.0  # where the gas joins the air, and where it leaves the valve
FAN = (232.0, AIR)
HEAT = (264.0, 18.0)  # upper left corner of the chamber that the burner fires into


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the ways of air and gas, and mark the parts that this step is about."""
    del figures  # this drawing shows no figure
    sheet.height = 348
    marked = set(params["highlight"])
    _gas(sheet)
    _air(sheet, marked="venturi" in marked)
    _fan(sheet, marked="fan" in marked)
    _burner(sheet)
    _valve(sheet)
    _throttle(sheet, marked="throttle" in marked)
    _offset(sheet, marked="offset" in marked)
    _test_point(sheet, marked="inlet_test_point" in marked)


def _gas(sheet: Sheet) -> None:
    sheet.rect("gas", (0, 236), VALVE_LEFT, 16)
    sheet.rect("gas", (THROAT - 8, 138), 16, VALVE_TOP - 138)
    for level in (236, 252):
        sheet.polyline("line", (0, level), (VALVE_LEFT, level))
    for x in (THROAT - 8, THROAT + 8):
        sheet.polyline("line", (x, 140), (x, VALVE_TOP))
    sheet.arrow("line", (16, 244), (70, 244), head=8)
    sheet.text(8, 228, "Gas in")


def _air(sheet: Sheet, *, marked: bool) -> None:
    """A pipe that narrows where the gas comes in and widens again towards the fan."""
    upper = ((0, AIR - 28), (70, AIR - 28), (THROAT - 10, AIR - 12), (THROAT + 10, AIR - 12))
    after = (192.0, AIR - 24)
    sheet.polyline("mark" if marked else "line", *upper, after)
    lower = [(x, 2 * AIR - y) for x, y in (*upper, after)]
    left, right = [*lower[:2], (THROAT - 10, 138)], [(THROAT + 10, 138), lower[-1]]
    for half in (left, right):
        sheet.polyline("mark" if marked else "line", *half)
    sheet.arrow("line", (12, AIR), (84, AIR), head=8)
    sheet.text(8, AIR - 40, "Air in")
    sheet.text(THROAT + 4, 60, "Venturi", anchor="middle", bold=marked)
    sheet.lead((THROAT, 66), (THROAT, AIR - 14))
    # The valve feels the pressure of the air through this small tube.
    sheet.path("broken", f"M44 {AIR + 28} V192 Q44 214 64 214 H{VALVE_LEFT}")


def _fan(sheet: Sheet, *, marked: bool) -> None:
    x, y = FAN
    sheet.circle("mark_body" if marked else "body", x, y, 40)
    for turn in (-1, 1):
        sheet.path("line", f"M{x} {y} q{turn * 16} {turn * -4} {turn * 22} {turn * 18}")
        sheet.path("line", f"M{x} {y} q{turn * 4} {turn * 16} {turn * -18} {turn * 22}")
    sheet.text(x, 184, "Fan", anchor="middle", bold=marked)


def _burner(sheet: Sheet) -> None:
    x, y = HEAT
    sheet.polyline("line", (260, 88), (286, 66))
    sheet.polyline("line", (272, 118), (334, 118), (334, 66))
    sheet.rect("body", (x, y), 90, 48, corner=4)
    flames(sheet, (280, 295, 310, 325, 340), y + 40)
    sheet.text(352, 144, "Burner", anchor="end")
    sheet.arrow("line", (310, 106), (310, 74), head=8)


def _valve(sheet: Sheet) -> None:
    width, height = VALVE_RIGHT - VALVE_LEFT, VALVE_FOOT - VALVE_TOP
    sheet.rect("body", (VALVE_LEFT, VALVE_TOP), width, height, corner=8)
    sheet.text(VALVE_LEFT + 60, 250, "Gas valve", anchor="middle", bold=True)


def _throttle(sheet: Sheet, *, marked: bool) -> None:
    sheet.rect("mark_body" if marked else "body", (THROAT + 8, 176), 24, 13, corner=2)
    sheet.polyline("line", (THROAT + 26, 178), (THROAT + 26, 187))
    sheet.lines(206, 208, ("Throttle:", "sets maximum"), size=SMALL, bold=marked)
    sheet.lead((204, 202), (THROAT + 33, 183))


def _offset(sheet: Sheet, *, marked: bool) -> None:
    sheet.rect("mark_body" if marked else "body", (VALVE_RIGHT, 252), 18, 16, corner=2)
    sheet.polyline("line", (VALVE_RIGHT + 14, 255), (VALVE_RIGHT + 14, 265))
    sheet.lines(232, 266, ("Offset:", "sets minimum"), size=SMALL, bold=marked)
    sheet.lead((230, 261), (VALVE_RIGHT + 19, 260))


def _test_point(sheet: Sheet, *, marked: bool) -> None:
    sheet.rect("mark_body" if marked else "body", (102, VALVE_FOOT), 14, 18, corner=2)
    sheet.polyline("line", (105, VALVE_FOOT + 22), (113, VALVE_FOOT + 22))
    sheet.lines(109, 322, ("Inlet", "test point"), anchor="middle", size=SMALL, bold=marked)
