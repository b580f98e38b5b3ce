"""A combination boiler's water: where it goes while it heats the house, and while a tap runs.

It is nobody's boiler. Real ones put the pump, the diverter valve and the sensors elsewhere.
"""

from typing import Any

from build_tools.diagrams.given import Figures, OneOf
from build_tools.diagrams.kit import Sheet
from build_tools.diagrams.svg import Point

PARAMS = {"mode": OneOf(("heating", "hot_water"))}
FLOW, HOT, COLD, RETURN = 66.0, 146.0, 206.0, 292.0  # the four pipes, along the sheet
FOOT = 348.0  # where they leave the boiler
EXCHANGER, DIVERTER, PUMP = 74.0, 206.0, 132.0  # levels of the parts
PLATE_LEFT, PLATE_RIGHT, PLATE_TOP, PLATE_FOOT = 120.0, 236.0, 188.0, 256.0


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the parts, then the way that the water takes in this mode on top of them."""
    del figures  # this drawing shows no figure
    sheet.height = 410
    heating = params["mode"] == "heating"
    sheet.rect("line", (14, 10), 332, 324, corner=8)
    _pipes(sheet)
    _ways(sheet, heating=heating)
    _exchangers(sheet)
    _pump(sheet)
    _diverter(sheet)
    for x, texts, running in (
        (FLOW, ("Heating", "flow"), heating),
        (HOT, ("Hot", "tap"), not heating),
        (COLD, ("Cold", "in"), not heating),
        (RETURN, ("Heating", "return"), heating),
    ):
        sheet.lines(x, 374, texts, anchor="middle", bold=running)


def _pipes(sheet: Sheet) -> None:
    """Every pipe there is, thin, so that the ways at rest are seen too."""
    for x in (FLOW, RETURN):
        sheet.polyline("fine", (x, EXCHANGER), (x, FOOT))
    for x in (HOT, COLD):
        sheet.polyline("fine", (x, PLATE_FOOT), (x, FOOT))
    sheet.polyline("fine", (FLOW, DIVERTER), (PLATE_LEFT, DIVERTER))
    sheet.polyline("fine", (PLATE_RIGHT, DIVERTER), (RETURN, DIVERTER))


def _ways(sheet: Sheet, *, heating: bool) -> None:
    out: list[Point] = [(124, EXCHANGER), (FLOW, EXCHANGER), (FLOW, DIVERTER)]
    back: list[Point] = [(RETURN, DIVERTER), (RETURN, EXCHANGER), (236, EXCHANGER)]
    sheet.polyline("mark", *out)
    sheet.polyline("mark", *back)
    if heating:
        sheet.arrow("mark", (FLOW, DIVERTER), (FLOW, FOOT))
        sheet.polyline("mark", (RETURN, FOOT), (RETURN, DIVERTER))
        sheet.arrow("mark", (RETURN, FOOT - 20), (RETURN, FOOT - 48))
        return
    sheet.arrow("mark", (FLOW, DIVERTER), (PLATE_LEFT, DIVERTER))
    sheet.polyline("mark", (PLATE_RIGHT, DIVERTER), (RETURN, DIVERTER))
    sheet.arrow("mark", (PLATE_RIGHT + 14, DIVERTER), (PLATE_RIGHT + 40, DIVERTER))
    tap_water: list[Point] = [(COLD, FOOT), (COLD, PLATE_FOOT - 6), (HOT, PLATE_FOOT - 6)]
    sheet.add("path", "water", d=_path(*tap_water, (HOT, FOOT)), **WATER_LINE)
    sheet.arrow("line", (COLD, FOOT - 18), (COLD, FOOT - 46))
    sheet.arrow("line", (HOT, FOOT - 46), (HOT, FOOT - 18))


WATER_LINE = {
    "fill": "none",
    "stroke": "var(--hb-drawing-water, #2f9aa8)",
    "stroke_width": "9",
    "stroke_opacity": "0.6",
}


def _path(*points: Point) -> str:
    return "M" + " L".join(f"{x} {y}" for x, y in points)


def _exchangers(sheet: Sheet) -> None:
    sheet.rect("body", (112, EXCHANGER - 20), 136, 40, corner=5)
    for x in range(124, 237, 14):
        sheet.polyline("fine", (x, EXCHANGER - 14), (x, EXCHANGER + 14))
    sheet.text(180, 42, "Main heat exchanger", anchor="middle")
    for x in (144, 168, 192, 216):
        sheet.path("mark_fill", f"M{x} 102 q12 22 0 26 q-12 -4 0 -26z")
    sheet.text(180, 148, "Burner", anchor="middle")
    height = PLATE_FOOT - PLATE_TOP
    sheet.rect("body", (PLATE_LEFT, PLATE_TOP), PLATE_RIGHT - PLATE_LEFT, height, corner=4)
    sheet.lines(178, PLATE_TOP + 24, ("Plate heat", "exchanger"), anchor="middle")


def _pump(sheet: Sheet) -> None:
    sheet.add("circle", "body", cx=RETURN, cy=PUMP, r=16, fill="currentColor")
    sheet.polyline(
        "solid", (RETURN - 8, PUMP + 7), (RETURN + 8, PUMP + 7), (RETURN, PUMP - 11), closed=True
    )
    sheet.text(RETURN - 22, PUMP + 5, "Pump", anchor="end")


def _diverter(sheet: Sheet) -> None:
    """Three ways in one valve: from above, and either down or to the right."""
    for across, down in ((0, -1), (0, 1), (1, 0)):
        far = (FLOW + 16 * across, DIVERTER + 16 * down)
        sides = (
            (far[0] - 10 * down, far[1] - 10 * across),
            (far[0] + 10 * down, far[1] + 10 * across),
        )
        sheet.polyline("body", (FLOW, DIVERTER), *sides, closed=True)
    sheet.lines(FLOW + 6, 284, ("Diverter", "valve"))
