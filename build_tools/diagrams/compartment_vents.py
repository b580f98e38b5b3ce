"""A compartment with an appliance in it: the vent high up, the vent low down, and the air."""

from typing import Any

from build_tools.diagrams.given import Figures, OneOf
from build_tools.diagrams.kit import Sheet

PARAMS = {"flue": OneOf(("open_flued", "room_sealed")), "air_from": OneOf(("outside", "room"))}
LEFT, RIGHT, TOP, FLOOR = 132.0, 312.0, 64.0, 330.0  # inside of the compartment
WALL = 12.0
HIGH_VENT, LOW_VENT = 102.0, 306.0  # where the upper one begins and the lower one ends
VENT = 20.0  # how tall the smaller vent is drawn
WHERE = {"outside": "Outdoors", "room": "The room"}


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the compartment, its two vents and what the air does."""
    del figures  # the areas follow from the heat input; the calculator works them out
    sheet.height = 352
    open_flued = params["flue"] == "open_flued"
    low = VENT * 2 if open_flued else VENT
    _walls(sheet, low)
    _appliance(sheet, open_flued=open_flued)
    sheet.arrow("mark", (LEFT + 46, HIGH_VENT + VENT / 2), (LEFT - 44, HIGH_VENT + VENT / 2))
    middle = LOW_VENT - low / 2
    for level in (middle - 7, middle + 7) if open_flued else (middle,):
        sheet.arrow("mark", (LEFT - 44, level), (LEFT + 46, level))
    sheet.text(8, 24, WHERE[params["air_from"]], bold=True)
    sheet.lines(8, 70, ("High vent:", "heat out"), bold=True)
    sheet.lines(8, 196, ("Low vent:", *_low_words(open_flued=open_flued)), bold=True)


def _low_words(*, open_flued: bool) -> tuple[str, ...]:
    return ("air in, to", "cool and", "to burn") if open_flued else ("air in,", "to cool")


def _walls(sheet: Sheet, low: float) -> None:
    """The wall on the left is open where the vents are."""
    outer = LEFT - WALL
    gaps = ((HIGH_VENT, HIGH_VENT + VENT), (LOW_VENT - low, LOW_VENT))
    edges = [TOP, *(level for gap in gaps for level in gap), FLOOR]
    for top, foot in zip(edges[::2], edges[1::2], strict=True):
        sheet.rect("body", (outer, top), WALL, foot - top)
    for top, foot in gaps:
        slats = round((foot - top) / 10)
        for slat in range(slats + 1):
            level = top + slat * (foot - top) / slats
            sheet.polyline("fine", (outer, level), (LEFT, level))
    sheet.polyline("line", (outer, TOP), (RIGHT, TOP), (RIGHT, FLOOR), (outer, FLOOR))


def _appliance(sheet: Sheet, *, open_flued: bool) -> None:
    left, right, top, foot = 206.0, 286.0, 144.0, 262.0
    sheet.rect("body", (left, top), right - left, foot - top, corner=6)
    for x in (232, 246, 260):
        sheet.path("mark_fill", f"M{x} 226 q10 18 0 20 q-10 -2 0 -20z")
    if open_flued:
        for x in (238.0, 254.0):
            sheet.polyline("line", (x, top - 12), (x, 30))
        sheet.polyline("line", (224, top), (238, top - 12))
        sheet.polyline("line", (268, top), (254, top - 12))
        sheet.arrow("line", (246, 58), (246, 32))
        sheet.text(272, 46, "Open flue")
    else:
        for level in (168.0, 190.0):
            sheet.polyline("line", (right, level), (356, level))
        sheet.polyline("line", (right, 174), (356, 174))
        sheet.polyline("line", (right, 184), (356, 184))
        sheet.text(356, 52, "Room-sealed flue", anchor="end")
        sheet.lead((330, 58), (330, 170))
    sheet.text(246, 286, "Appliance", anchor="middle")
