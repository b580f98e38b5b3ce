"""A generic modulating gas valve, seen from the front: test points, adjusters, coil and gauge.

It is nobody's valve. Real ones put the same parts in other places, and the words with it say so.
"""

from typing import Any

from build_tools.diagrams.given import Figures, OneOf, SomeOf
from build_tools.diagrams.kit import SMALL, Sheet

PARTS = (
    "inlet_test_point",
    "burner_test_point",
    "maximum_adjuster",
    "minimum_adjuster",
    "coil",
    "compensation_tube",
)
PARAMS = {
    "gauge": OneOf(("none", "inlet", "burner")),
    "highlight": SomeOf(PARTS),
    "fluid": SomeOf(("inlet", "burner")),  # leak detection fluid on these test points
}
TEST_POINTS = {"inlet": 112.0, "burner": 248.0}  # how far along the body each stands
PIPE_TOP, PIPE_FOOT, BODY_TOP, BODY_FOOT = 168.0, 192.0, 142.0, 218.0
NIPPLE_FOOT = 238.0


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the valve, what is marked on it, and the gauge where one is fitted."""
    del figures  # this drawing shows no figure
    marked = set(params["highlight"])
    turned = marked & {"maximum_adjuster", "minimum_adjuster"}
    sheet.top = 14 if turned else 32
    sheet.height = 370 if params["gauge"] != "none" else 292
    _pipes(sheet)
    _coil(sheet, marked="coil" in marked)
    _compensation(sheet, marked="compensation_tube" in marked)
    _adjusters(sheet, marked)
    for side in TEST_POINTS:
        _test_point(
            sheet, side, marked=f"{side}_test_point" in marked, fitted=params["gauge"] == side
        )
    for side in params["fluid"]:
        _bubbles(sheet, TEST_POINTS[side])
    if params["gauge"] != "none":
        _gauge(sheet, TEST_POINTS[params["gauge"]])


def _pipes(sheet: Sheet) -> None:
    sheet.rect("gas", (0, PIPE_TOP), 360, PIPE_FOOT - PIPE_TOP)
    sheet.rect("body", (76, BODY_TOP), 208, BODY_FOOT - BODY_TOP, corner=8)
    for left, right in ((0, 76), (284, 360)):
        for level in (PIPE_TOP, PIPE_FOOT):
            sheet.polyline("line", (left, level), (right, level))
        sheet.arrow("line", (left + 16, 180), (right - 14, 180))
    sheet.text(8, 156, "Gas in")
    sheet.text(352, 156, "Burner", anchor="end")
    sheet.text(180, 185, "Gas valve", anchor="middle", bold=True)


def _coil(sheet: Sheet, *, marked: bool) -> None:
    sheet.rect("mark_body" if marked else "body", (150, 84), 60, 58, corner=4)
    for level in (98, 106, 114, 122, 130):
        sheet.polyline("fine", (150, level), (210, level))
    sheet.path("line", "M150 126 h-12 v8 h-16")
    sheet.text(144, 96, "Modulating", anchor="end", bold=marked)
    sheet.text(144, 114, "coil", anchor="end", bold=marked)
    sheet.text(118, 139, "its leads", anchor="end", size=SMALL)


def _compensation(sheet: Sheet, *, marked: bool) -> None:
    """The small tube to the case, on the valves that have one."""
    sheet.rect("mark_body" if marked else "body", (244, 126), 12, BODY_TOP - 126, corner=2)
    sheet.lead((290, 124), (251, 131))
    sheet.text(352, 112, "Compensation", anchor="end", bold=marked)
    sheet.text(352, 130, "tube", anchor="end", bold=marked)


def _adjusters(sheet: Sheet, marked: set[str]) -> None:
    """The nut for the maximum stands round the screw for the minimum."""
    outer, inner = "maximum_adjuster" in marked, "minimum_adjuster" in marked
    sheet.polyline(
        "mark_body" if outer else "body", (162, 84), (162, 66), (198, 66), (198, 84), closed=True
    )
    for edge in (174, 186):
        sheet.polyline("fine", (edge, 68), (edge, 82))
    sheet.rect("mark_body" if inner else "body", (173, 50), 14, 16, corner=2)
    sheet.polyline("line", (176, 55), (184, 55))
    sheet.lead((214, 66), (194, 74))
    sheet.text(218, 62, "Maximum", bold=outer)
    sheet.text(218, 80, "adjuster", bold=outer)
    sheet.lead((140, 56), (175, 58))
    sheet.text(136, 50, "Minimum", anchor="end", bold=inner)
    sheet.text(136, 68, "adjuster", anchor="end", bold=inner)
    if outer or inner:
        _turn(sheet, 180, 36)


def _turn(sheet: Sheet, x: float, y: float) -> None:
    """An arrow that goes round: turn here."""
    sheet.path("mark", f"M{x - 26} {y} a26 9 0 1 1 44 7")
    sheet.polyline("mark_fill", (x + 26, y + 1), (x + 12, y + 13), (x + 10, y), closed=True)


def _test_point(sheet: Sheet, side: str, *, marked: bool, fitted: bool) -> None:
    x = TEST_POINTS[side]
    sheet.rect(
        "mark_body" if marked else "body", (x - 7, BODY_FOOT), 14, NIPPLE_FOOT - BODY_FOOT, corner=2
    )
    if not fitted:
        sheet.polyline("line", (x - 4, NIPPLE_FOOT + 4), (x + 4, NIPPLE_FOOT + 4))
    anchor, edge = ("end", x - 14) if side == "inlet" else ("start", x + 14)
    if fitted:
        sheet.text(edge, 240, side.capitalize(), anchor=anchor, bold=marked)
        sheet.text(edge, 258, "test point", anchor=anchor, bold=marked)
        return
    sheet.text(x, 264, side.capitalize(), anchor="middle", bold=marked)
    sheet.text(x, 282, "test point", anchor="middle", bold=marked)


def _bubbles(sheet: Sheet, x: float) -> None:
    """Fluid round the nipple, with the bubbles that a leak would make."""
    for across, down, radius in ((-13, 8, 5), (13, 6, 6), (-11, 20, 4), (15, 18, 4), (2, 25, 3)):
        sheet.circle("water", x + across, BODY_FOOT + down, radius)
        sheet.circle("fine", x + across, BODY_FOOT + down, radius)


def _gauge(sheet: Sheet, x: float) -> None:
    sheet.path("tube", f"M{x} {NIPPLE_FOOT - 6} V272 C{x} 292 180 280 180 306")
    sheet.rect("body", (126, 306), 108, 58, corner=8)
    sheet.rect("line", (138, 316), 84, 38, corner=4)
    sheet.text(180, 341, "mbar", anchor="middle", bold=True)
    sheet.text(120, 340, "Gauge", anchor="end")
