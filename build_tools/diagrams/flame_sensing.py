"""Flame sensing by rectification: control, electrode, flame, burner, and the meter in the lead."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import Sheet

PARAMS = {"current": FigureName()}
CONTROL_RIGHT, LEAD, EARTH = 104.0, 92.0, 252.0  # edge of the control; levels of the two wires
ELECTRODE, BURNER_TOP = 254.0, 176.0


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the loop that the small current takes."""
    sheet.height = 318
    _control(sheet)
    _lead(sheet, figures.text(params["current"]))
    _flame(sheet)
    _way_back(sheet)


def _control(sheet: Sheet) -> None:
    sheet.rect("body", (10, 64), CONTROL_RIGHT - 10, 214, corner=8)
    sheet.text(57, 54, "Control", anchor="middle", bold=True)
    sheet.circle("line", 57, 118, 16)
    sheet.path("line", "M47 118 q5 -10 10 0 q5 10 10 0")
    sheet.lines(57, 158, ("AC", "voltage"), anchor="middle")
    sheet.lines(57, 210, ("Looks", "for DC"), anchor="middle")


def _lead(sheet: Sheet, current: str) -> None:
    """The meter stands in the lead: all of the current goes through it."""
    sheet.polyline("mark", (CONTROL_RIGHT, LEAD), (150, LEAD))
    sheet.add("circle", "body", cx=172, cy=LEAD, r=22)
    sheet.text(172, LEAD + 6, "µA", anchor="middle", bold=True)
    sheet.polyline("mark", (194, LEAD), (ELECTRODE, LEAD), (ELECTRODE, 150))
    sheet.text(172, 58, current, anchor="middle", bold=True)
    sheet.text(172, 36, "Meter in the lead", anchor="middle")
    sheet.rect("line", (ELECTRODE - 6, LEAD + 8), 12, 24, corner=3)
    sheet.text(ELECTRODE + 14, LEAD + 26, "Electrode")


def _flame(sheet: Sheet) -> None:
    sheet.path(
        "mark_body",
        f"M{ELECTRODE} 126 q30 34 16 {BURNER_TOP - 126} h-32 q-14 -16 16 -{BURNER_TOP - 126}z",
    )
    sheet.lines(ELECTRODE - 30, 148, ("Passes one", "way only"), anchor="end")
    sheet.rect("body", (202, BURNER_TOP), 106, 22, corner=4)
    sheet.text(ELECTRODE, BURNER_TOP + 42, "Burner", anchor="middle")


def _way_back(sheet: Sheet) -> None:
    sheet.polyline("line", (296, BURNER_TOP + 22), (296, EARTH), (CONTROL_RIGHT, EARTH))
    sheet.polyline("line", (296, EARTH), (296, EARTH + 16))
    for step, half in enumerate((14, 9, 4)):
        level = EARTH + 16 + step * 6
        sheet.polyline("line", (296 - half, level), (296 + half, level))
    sheet.text(208, EARTH - 10, "Way back: earth", anchor="middle")
