"""A wall drawn to scale, with the strips on it where a flue terminal may not stand."""

from typing import Any

from build_tools.diagrams.given import Figures, OneOf, as_written
from build_tools.diagrams.kit import LINE, SMALL, Sheet
from calcs.engine.units import parse_quantity

PARAMS = {"flue": OneOf(("fanned_balanced", "fanned_open"))}
SCALE = 0.16  # units of the sheet for each millimetre of the wall
LEFT, RIGHT, EAVES, GROUND = 18.0, 342.0, 46.0, 356.0  # edges of the wall
GUTTER, GUTTER_FOOT, PIPE, PIPE_RIGHT = 196.0, 54.0, 318.0, 330.0
OPEN_LEFT, OPEN_TOP, OPEN_RIGHT, OPEN_FOOT = 122.0, 166.0, 198.0, 244.0
KEY, COLUMN = 402.0, 112.0  # level of the first line below the drawing, width of its columns
NAMED = {  # positions of the table that are drawn, in words for who does not see the drawing
    "A": "below an opening",
    "B": "above an opening",
    "C": "beside an opening",
    "D": "below a gutter",
    "E": "below eaves",
    "G": "from an upright pipe",
    "H": "from a corner",
    "I": "above ground",
}


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the wall, the strip that each position keeps free, and the distances below it."""
    flue = params["flue"]
    table = {
        name: figures.cell("terminal_distances", "distance", position=name, flue=flue)
        for name in NAMED
    }
    _strips(sheet, {name: _units(scalar) for name, scalar in table.items()})
    _wall(sheet)
    written = {name: as_written(scalar) for name, scalar in table.items()}
    for number, (name, distance) in enumerate(written.items()):
        row, column = divmod(number, 3)
        x, y = LEFT + COLUMN * column, KEY + LINE * row
        sheet.text(x, y, name, size=SMALL, bold=True)
        sheet.text(x + 20, y, distance, size=SMALL)
    sheet.height = KEY + LINE * 2 + 8
    said = "; ".join(f"{NAMED[name]} {distance}" for name, distance in written.items())
    sheet.alt = f"{sheet.alt} The distances: {said}."


def _units(scalar: str) -> float:
    return float(parse_quantity(scalar).to("mm").magnitude) * SCALE


def _strips(sheet: Sheet, size: dict[str, float]) -> None:
    """The strips to keep free, each as wide as the table says, and its letter."""
    width, height = OPEN_RIGHT - OPEN_LEFT, OPEN_FOOT - OPEN_TOP
    middle, level = OPEN_LEFT + width / 2, OPEN_TOP + height / 2
    strips = [
        ("E", LEFT, EAVES, GUTTER - LEFT, size["E"]),
        ("D", GUTTER, GUTTER_FOOT, PIPE - GUTTER, size["D"]),
        ("H", LEFT, EAVES, size["H"], GROUND - EAVES),
        ("G", PIPE - size["G"], GUTTER_FOOT, size["G"], GROUND - GUTTER_FOOT),
        ("I", LEFT, GROUND - size["I"], RIGHT - LEFT, size["I"]),
        ("B", OPEN_LEFT, OPEN_TOP - size["B"], width, size["B"]),
        ("A", OPEN_LEFT, OPEN_FOOT, width, size["A"]),
        ("C", OPEN_LEFT - size["C"], OPEN_TOP, size["C"], height),
        ("C", OPEN_RIGHT, OPEN_TOP, size["C"], height),
    ]
    for _, x, y, across, down in strips:
        sheet.add("rect", "mark_fill", x=x, y=y, width=across, height=down, fill_opacity="0.25")
    _round_corners(sheet, size)
    letters = {
        "E": (middle, EAVES + size["E"] / 2),
        "D": (GUTTER + 30, GUTTER_FOOT + size["D"] + 12),
        "H": (LEFT + size["H"] / 2, level),
        "G": (PIPE - size["G"] / 2, level),
        "I": (middle, GROUND - size["I"] / 2),
        "B": (middle, OPEN_TOP - size["B"] / 2),
        "A": (middle, OPEN_FOOT + size["A"] / 2),
        "C": (OPEN_RIGHT + size["C"] / 2, level),
    }
    for name, (x, y) in letters.items():
        sheet.text(x, y + 6, name, anchor="middle", bold=True)


def _round_corners(sheet: Sheet, size: dict[str, float]) -> None:
    """Past a corner of the opening the distance counts in every direction."""
    across = size["C"]
    for x, side in ((OPEN_LEFT, -1), (OPEN_RIGHT, 1)):
        for y, way, name in ((OPEN_TOP, -1, "B"), (OPEN_FOOT, 1, "A")):
            down, turn = size[name], int(side == way)
            arc = f"a{across} {down} 0 0 {turn} {-side * across} {way * down}"
            d = f"M{x} {y} h{side * across} {arc} z"
            sheet.add("path", "mark_fill", d=d, fill_opacity="0.25")


def _wall(sheet: Sheet) -> None:
    sheet.polyline("line", (RIGHT, EAVES), (LEFT, EAVES), (LEFT, GROUND))
    sheet.polyline("line", (4, GROUND), (356, GROUND))
    sheet.rect("body", (GUTTER, EAVES), RIGHT - GUTTER, GUTTER_FOOT - EAVES)
    sheet.rect("body", (PIPE, GUTTER_FOOT), PIPE_RIGHT - PIPE, GROUND - GUTTER_FOOT)
    width, height = OPEN_RIGHT - OPEN_LEFT, OPEN_FOOT - OPEN_TOP
    sheet.rect("body", (OPEN_LEFT, OPEN_TOP), width, height)
    sheet.text(
        OPEN_LEFT + width / 2, OPEN_TOP + height / 2 + 6, "Opening", anchor="middle", size=SMALL
    )
    x, y = 272.0, 132.0  # a place that all of the strips leave free
    sheet.circle("body", x, y, 8)
    sheet.circle("line", x, y, 3.5)
    sheet.text(x - 14, y - 14, "Terminal", anchor="middle", size=SMALL)
    sheet.text(LEFT, 30, "Eaves")
    sheet.text(GUTTER, 30, "Gutter")
    sheet.text(356, 30, "Pipe", anchor="end")
    sheet.lead((338, 34), (PIPE + 6, GUTTER_FOOT + 14))
    sheet.text(LEFT, GROUND + 20, "Ground")
    sheet.text(342, GROUND + 20, "drawn to scale", anchor="end", size=SMALL)
