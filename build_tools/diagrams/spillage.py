"""Spillage: where to hold the smoke match, and what the smoke does when products come out."""

from typing import Any

from build_tools.diagrams.flue_parts import flames, smoke
from build_tools.diagrams.given import Figures, OneOf
from build_tools.diagrams.kit import SMALL, Sheet

PARAMS = {"opening": OneOf(("diverter", "canopy"))}
MIDDLE = 96.0
SKIRT_TOP, SKIRT_FOOT, SKIRT = 62.0, 112.0, 76.0  # the last is half of its width at the foot
OUTCOME = 236.0  # level of the small drawings of what the smoke does
TITLES = {
    "diverter": ("Draught diverter,", "from the front"),
    "canopy": ("Gas fire,", "from the front"),
}


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the opening with the places for the match, and both outcomes."""
    del figures  # this drawing shows no figure
    sheet.height = 366
    places = DRAWN[params["opening"]](sheet)
    for number, (x, y) in enumerate(places, start=1):
        sheet.circle("mark_body", x, y, 11)
        sheet.text(x, y + 5, str(number), anchor="middle", size=SMALL, bold=True)
    sheet.lines(198, 44, TITLES[params["opening"]], bold=True)
    sheet.lines(198, 92, ("Hold the match at", "each place, just", "inside the edge."))
    _outcome(sheet, 92, spills=False)
    _outcome(sheet, 268, spills=True)


def _diverter(sheet: Sheet) -> list[tuple[float, float]]:
    """A skirt over the primary flue; the match goes along its lower edge, front and sides."""
    for side in (-1, 1):
        sheet.polyline(
            "line",
            (MIDDLE + side * 22, 20),
            (MIDDLE + side * 22, SKIRT_TOP),
            (MIDDLE + side * SKIRT, SKIRT_FOOT),
        )
    sheet.add("ellipse", "fine", cx=MIDDLE, cy=SKIRT_FOOT, rx=SKIRT, ry=13)
    sheet.rect("body", (MIDDLE - 24, SKIRT_FOOT + 22), 48, 46)
    sheet.arrow("line", (MIDDLE, 96), (MIDDLE, 36), head=8)
    return [(18, 122), (56, 126), (MIDDLE, 128), (136, 126), (174, 122)]


def _canopy(sheet: Sheet) -> list[tuple[float, float]]:
    """A fire: the products leave behind the top edge of its opening."""
    sheet.rect("body", (16, 26), 160, 142, corner=6)
    sheet.rect("line", (34, 64), 124, 92, corner=4)
    flames(sheet, (60, 78, 96, 114, 132), 144)
    sheet.polyline("line", (34, 64), (46, 44), (146, 44), (158, 64))
    return [(40, 70), (68, 70), (MIDDLE, 70), (124, 70), (152, 70)]


DRAWN = {"diverter": _diverter, "canopy": _canopy}


def _outcome(sheet: Sheet, x: float, *, spills: bool) -> None:
    """The edge of the opening with a match under it, and where its smoke goes."""
    sheet.polyline("line", (x + 8, 208), (x + 8, OUTCOME - 6), (x - 22, OUTCOME + 20))
    sheet.polyline("line", (x - 40, 290), (x - 16, 270))
    sheet.circle("mark_fill", x - 15, 269, 4)
    steps = range(5)
    if spills:
        puffs = [(x - 18 - 12 * step, 258 - 5 * step, 5 + step) for step in steps]
    else:
        puffs = [(x + 5 + 8 * step, 258 - 13 * step, 5.0 + step * 0.6) for step in steps]
    smoke(sheet, puffs)
    words = ("Blown out:", "it spills. Stop.") if spills else ("Drawn in:", "it clears.")
    sheet.lines(x, 322, words[:1], anchor="middle", bold=True)
    sheet.lines(x, 341, words[1:], anchor="middle", bold=spills)
