"""A room-sealed appliance with a concentric flue: where to sample, and where it can leak.

It is nobody's appliance. Real ones have their sample points in other places.
"""

from typing import Any

from build_tools.diagrams.flue_parts import Sample, analyser, flames
from build_tools.diagrams.given import FigureName, Figures, OneOf, SomeOf
from build_tools.diagrams.kit import SMALL, Sheet
from build_tools.diagrams.svg import Point

PARAMS = {
    "probe": OneOf(("none", "flue", "air")),
    "look_at": SomeOf(("case_seal", "joints", "wall", "terminal")),
    "oxygen": FigureName(optional=True),
    "carbon_dioxide": FigureName(optional=True),
    "carbon_monoxide": FigureName(optional=True),
}
CASE_LEFT, CASE_RIGHT, CASE_TOP, CASE_FOOT = 16.0, 132.0, 192.0, 352.0
MIDDLE = 74.0  # of the flue where it leaves the case
LEVEL = 88.0  # of the flue where it goes through the wall
DUCT, PIPE = 26.0, 11.0  # half as wide as the air duct and the flue pipe inside it
WALL_LEFT, WALL_RIGHT, DUCT_END, PIPE_END = 262.0, 284.0, 314.0, 336.0
POINTS = {"flue": 144.0, "air": 168.0}  # level of each sample point
WORDS = {"flue": "Flue gas point", "air": "Air point"}
BESIDE_HOSE = {"flue": 135.0, "air": 188.0}  # level of the words where a hose is in their way


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the appliance, its flue through the wall, and what this step is about."""
    sheet.height = 376
    probe = params["probe"]
    _wall(sheet)
    _case(sheet)
    _flue(sheet, probe)
    for name in POINTS:
        _sample_point(sheet, name, marked=name == probe)
    if probe != "none":
        level = POINTS[probe]
        sheet.path("tube", f"M118 {level} H206 Q232 {level} 232 {level + 26} V232")
        analyser(sheet, (140, 232), Sample.of(params, figures))
    for name in params["look_at"]:
        LOOK_AT[name](sheet)


def _wall(sheet: Sheet) -> None:
    for top, foot in ((10, LEVEL - DUCT), (LEVEL + DUCT, 368)):
        sheet.rect("body", (WALL_LEFT, top), WALL_RIGHT - WALL_LEFT, foot - top)
    sheet.text(254, 24, "Room", anchor="end")
    sheet.text(290, 24, "Outside", size=SMALL)


def _case(sheet: Sheet) -> None:
    sheet.rect(
        "body", (CASE_LEFT, CASE_TOP), CASE_RIGHT - CASE_LEFT, CASE_FOOT - CASE_TOP, corner=6
    )
    sheet.circle("fine", MIDDLE, 224, 13)
    sheet.rect("body", (40, 244), 68, 26, corner=3)
    flames(sheet, (52, 63, 74, 85, 96), 300)
    sheet.polyline("gas_line", (MIDDLE, 306), (MIDDLE, 326))
    sheet.polyline("gas_line", (MIDDLE, 348), (MIDDLE, 370))
    sheet.text(MIDDLE, 342, "Burner", anchor="middle", size=SMALL)
    for x in (27, 121):  # fresh air comes down inside the case
        sheet.arrow("line", (x, 232), (x, 288), head=7)


def _flue(sheet: Sheet, probe: str) -> None:
    duct = _elbow(DUCT, DUCT_END, CASE_TOP)
    pipe = _elbow(PIPE, PIPE_END, 211)
    sheet.polyline("mark_body" if probe == "air" else "line", *duct, closed=True)
    if probe == "air":  # the pipe inside is not part of the duct
        sheet.polyline("line", *pipe, closed=True)
    sheet.polyline("mark_body" if probe == "flue" else "body", *pipe, closed=True)
    sheet.arrow("line", (176, LEVEL), (232, LEVEL), head=7)
    sheet.arrow("line", (MIDDLE, 188), (MIDDLE, 112), head=7)
    for level in (LEVEL - 18.5, LEVEL + 18.5):
        sheet.arrow("line", (308, level), (272, level), head=7)
    sheet.text(16, 50, "Air in, flue gas out")


def _elbow(half: float, end: float, foot: float) -> tuple[Point, ...]:
    """Outline of a pipe that goes up from `foot` and turns to the right, as far as `end`."""
    return (
        (MIDDLE - half, foot),
        (MIDDLE - half, LEVEL - half),
        (end, LEVEL - half),
        (end, LEVEL + half),
        (MIDDLE + half, LEVEL + half),
        (MIDDLE + half, foot),
    )


def _sample_point(sheet: Sheet, name: str, *, marked: bool) -> None:
    """A plugged tube that reaches the pipe inside, or only the duct."""
    level, reach = POINTS[name], MIDDLE + (5 if name == "flue" else 17)
    sheet.rect("mark_body" if marked else "body", (reach, level - 4), 118 - reach, 8, corner=2)
    if not marked:
        sheet.rect("solid", (118, level - 6), 5, 12)
    foot = BESIDE_HOSE[name] if marked else level + 5
    sheet.text(130, foot, WORDS[name], size=SMALL, bold=marked)


def _around(sheet: Sheet, x: float, y: float, across: float, down: float) -> None:
    sheet.add("ellipse", "mark", cx=x, cy=y, rx=across, ry=down)


def _case_seal(sheet: Sheet) -> None:
    sheet.rect(
        "mark", (CASE_LEFT, CASE_TOP), CASE_RIGHT - CASE_LEFT, CASE_FOOT - CASE_TOP, corner=6
    )
    sheet.text(144, 316, "Case seal", bold=True)


def _joints(sheet: Sheet) -> None:
    for x, y in ((MIDDLE, CASE_TOP), (122, LEVEL)):
        across, down = (34, 9) if x == MIDDLE else (9, 34)
        _around(sheet, x, y, across, down)
    sheet.text(144, 214, "Joints", bold=True)
    sheet.lead((142, 208), (109, 194))


def _wall_made_good(sheet: Sheet) -> None:
    for x in (WALL_LEFT, WALL_RIGHT):
        for y in (LEVEL - DUCT, LEVEL + DUCT):
            sheet.circle("mark", x, y, 6)
    sheet.lines(150, 258, ("Wall made", "good"), bold=True)
    sheet.lead((236, 240), (WALL_LEFT - 1, LEVEL + DUCT + 7))


def _terminal(sheet: Sheet) -> None:
    _around(sheet, 324, LEVEL, 24, 38)
    sheet.text(359, 150, "Terminal", anchor="end", size=SMALL)


LOOK_AT = {
    "case_seal": _case_seal,
    "joints": _joints,
    "wall": _wall_made_good,
    "terminal": _terminal,
}
