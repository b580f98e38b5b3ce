"""An open-flued appliance under its roof: where to sample, and what the flue flow test shows."""

from typing import Any

from build_tools.diagrams.flue_parts import Sample, analyser, flames, smoke
from build_tools.diagrams.given import Figures, OneOf
from build_tools.diagrams.kit import SMALL, Sheet

PARAMS = {"test": OneOf(("sample", "flow"))}
FLUE, HALF = 84.0, 12.0  # middle of the flue, and half its width
TERMINAL, CEILING, SKIRT_TOP, SKIRT_FOOT = 44.0, 176.0, 226.0, 258.0
PRIMARY, BOILER, FLOOR = 250.0, 286.0, 392.0  # tops of the primary flue and the boiler; the floor
WALL = 342.0
PUFFS = (  # of the smoke: up the flue from the intake, then out of the terminal
    *((FLUE + (3 if step % 2 else -3), 248.0 - 15 * step, 7.5) for step in range(13)),
    *((FLUE - 20, 44, 8), (FLUE + 22, 40, 9), (FLUE - 8, 26, 10), (FLUE + 10, 20, 10)),
)


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the flue from the appliance to above the roof, and the test."""
    del figures  # this drawing shows no figure
    sheet.height = 402
    flowing = params["test"] == "flow"
    _building(sheet)
    _flue(sheet)
    _boiler(sheet, lit=not flowing)
    if flowing:
        _flow(sheet)
    else:
        _sample(sheet)


def _building(sheet: Sheet) -> None:
    sheet.polyline("line", (6, 150), (186, 84), (354, 146))
    for left, right in ((6, FLUE - HALF - 4), (FLUE + HALF + 4, WALL)):
        sheet.polyline("line", (left, CEILING), (right, CEILING))
    sheet.polyline("line", (6, FLOOR), (354, FLOOR))
    sheet.polyline("line", (WALL, CEILING), (WALL, 348))
    sheet.polyline("line", (WALL, 378), (WALL, FLOOR))
    for level in (348, 358, 368, 378):  # slats of the vent
        sheet.polyline("line", (WALL - 5, level + 4), (WALL + 5, level - 4))
    sheet.arrow("line", (330, 363), (300, 363), head=7)
    sheet.text(296, 368, "Air vent", anchor="end", size=SMALL)
    sheet.text(332, 168, "Loft", anchor="end", size=SMALL)


def _flue(sheet: Sheet) -> None:
    for side in (-1, 1):
        x = FLUE + side * HALF
        sheet.polyline("line", (x, TERMINAL + 12), (x, SKIRT_TOP), (FLUE + side * 30, SKIRT_FOOT))
    sheet.rect("body", (FLUE - HALF - 6, TERMINAL), 2 * HALF + 12, 12, corner=3)
    sheet.rect("body", (FLUE - HALF, PRIMARY), 2 * HALF, BOILER - PRIMARY)


def _boiler(sheet: Sheet, *, lit: bool) -> None:
    sheet.rect("body", (30, BOILER), 108, FLOOR - BOILER, corner=6)
    if lit:
        flames(sheet, (60, 72, 84, 96, 108), 362)
    else:
        sheet.polyline("line", (52, 367), (116, 367))
    sheet.text(FLUE, 324, "Boiler", anchor="middle", bold=True)
    sheet.text(FLUE, 343, "at maximum" if lit else "off", anchor="middle", size=SMALL)


def _sample(sheet: Sheet) -> None:
    sheet.text(112, 48, "Terminal", size=SMALL)
    sheet.text(112, 200, "Secondary flue", size=SMALL)
    sheet.lead((108, 196), (FLUE, 202))
    sheet.text(136, 226, "Draught diverter", size=SMALL)
    sheet.lead((132, 222), (FLUE + 24, 246))
    sheet.arrow("line", (FLUE, 240), (FLUE, 150), head=7)
    for side in (-1, 1):  # room air that is drawn in under the skirt
        sheet.path("fine", f"M{FLUE + side * 44} 270 Q{FLUE + side * 20} 262 {FLUE + side * 7} 216")
    sheet.rect("mark_body", (FLUE + 2, 266), 44, 8, corner=2)
    sheet.path("tube", "M130 270 H184 Q204 270 220 264")
    sheet.lines(148, 322, ("Probe in the", "primary flue"), size=SMALL, bold=True)
    analyser(sheet, (220, 240), Sample(("CO, CO₂",)))


def _flow(sheet: Sheet) -> None:
    smoke(sheet, PUFFS)
    sheet.rect("mark_fill", (FLUE - 5, 258), 10, 6)
    sheet.lines(136, 22, ("All the smoke comes", "out of this terminal"), bold=True)
    sheet.lines(112, 136, ("None here",), bold=True)
    sheet.lines(132, 214, ("None in this room or", "in any other"), bold=True)
    sheet.lines(146, 276, ("Smoke pellet where", "the flue takes it in"))
    sheet.lead((142, 270), (FLUE + 8, 262))
