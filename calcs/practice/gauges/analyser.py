"""The read-out of a flue gas analyser, in a layout of our own: a line for each thing it shows."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.practice.gauges.sheet import SMALL, Sheet

# What a line is called, by the name that a question gives its figure.
LINES = {
    "oxygen": "Oxygen",
    "carbon_dioxide": "Carbon dioxide",
    "carbon_monoxide": "Carbon monoxide",
    "ratio": "CO/CO₂ ratio",
    "air_ratio": "Air ratio",
    "flue": "Flue temperature",
    "air": "Air temperature",
    "efficiency": "Efficiency",
}
SIGNS = {"percent": "%", "": ""}
LEFT, RIGHT, STEP = 20.0, 340.0, 30.0


def lines(given: Mapping[str, str]) -> list[tuple[str, str, str]]:
    """Name, number and unit of each line that it shows, in its order."""
    found = []
    for key, name in LINES.items():
        if key in given:
            number, _, unit = given[key].partition(" ")
            found.append((name, number.replace("-", "−"), SIGNS.get(unit, unit)))
    return found


def words(given: Mapping[str, str]) -> str:
    """Each line, in its order."""
    told = [f"{name} {number} {unit}".rstrip() for name, number, unit in lines(given)]
    fuel = f" It is set to {given['fuel']}." if given.get("fuel") else ""
    return f"The read-out of a flue gas analyser.{fuel} It shows: {'; '.join(told)}."


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw the read-out.

    Args:
        sheet: Where it is drawn, under what is there.
        given: A figure by the name of its line, and the `fuel` that it is set to.
        solved: `marks`, names of lines with commas between, are marked.
    """
    shown = lines(given)
    top = 44.0 if given.get("fuel") else 14.0
    height = top + STEP * len(shown) + 20
    sheet.begin(height + 6)
    sheet.rect("body", (LEFT - 10, 4), RIGHT - LEFT + 20, height - 6, corner=10)
    if given.get("fuel"):
        sheet.text(LEFT, 28, f"Set to: {given['fuel']}", size=SMALL, bold=True, name="fuel")
        sheet.path("fine", (LEFT, 40), (RIGHT, 40))
    marked = given.get("marks", "").split(",") if solved else []
    for place, (name, number, unit) in enumerate(shown):
        y = top + STEP * (place + 1)
        if any(LINES[each.strip()] == name for each in marked if each.strip()):
            sheet.rect("mark_body", (LEFT - 4, y - 21), RIGHT - LEFT + 8, 28, corner=4)
        sheet.text(LEFT, y, name)
        sheet.text(RIGHT - 54, y, number, anchor="end", size=20, bold=True, name="number")
        sheet.text(RIGHT - 44, y, unit, name="unit")
