"""The test dial of an imperial meter: one turn of the pointer is one or two cubic feet.

It has fifty marks: so many stand far enough apart on paper to be read there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal

from calcs.practice.gauges.sheet import SMALL, Point, Sheet

MARKS, FIGURES = 50, 10
NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
RADIUS, MIDDLE_Y = 82.0, 118.0
MIDDLES: Sequence[Sequence[float]] = ((180.0,), (90.0, 270.0))
HEIGHT = 222.0


def words(given: Mapping[str, str]) -> str:
    """The dial and where its pointer stands, as a share of the marks: no sum is made."""
    turn = given["turn"].replace(" ", NO_BREAK_SPACE)
    told = [f"A test dial of a gas meter. One turn with the clock is {turn}. It has fifty marks."]
    for key, when in _shown(given):
        told.append(f"{when}: the pointer stands at mark {mark_of(given[key], given['turn']):f}.")
    return " ".join(told)


def mark_of(place: str, turn: str) -> Decimal:
    """How many marks from the top the pointer stands."""
    size = Decimal(turn.partition(" ")[0])
    found = (Decimal(place.partition(" ")[0]) / size * MARKS) % MARKS
    return found.quantize(Decimal("0.1")).normalize() + 0


def _shown(given: Mapping[str, str]) -> list[tuple[str, str]]:
    if "end" not in given:
        return [("start", given.get("when", "Now"))]
    return [("start", "At the start"), ("end", "At the end")]


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw the dial as it stands once, or at the start and at the end beside each other.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `turn`, what one turn is; `start` and perhaps `end`, where the pointer stands.
        solved: With what the pointer shows written under it.
    """
    sheet.begin(HEIGHT)
    dials = _shown(given)
    for (key, when), x in zip(dials, MIDDLES[len(dials) - 1], strict=True):
        sheet.text(x, 20, when, anchor="middle", size=SMALL, bold=True)
        _face(sheet, x, given["turn"])
        share = mark_of(given[key], given["turn"]) / MARKS
        sheet.hand("thick", (x, MIDDLE_Y), 58, float(share * 360), f"hand-{key}")
        sheet.circle("solid", x, MIDDLE_Y, 5)
        if solved:
            turn, unit = given["turn"].split()
            place = Decimal(given[key].split()[0]) % Decimal(turn)
            shown = f"{place}{NO_BREAK_SPACE}{unit}"
            sheet.text(x, HEIGHT - 2, shown, anchor="middle", bold=True, look="mark_fill")


def _face(sheet: Sheet, x: float, turn: str) -> None:
    sheet.circle("line", x, MIDDLE_Y, RADIUS)
    marks: list[str | Point] = []
    for mark in range(MARKS):
        length = 12 if mark % (MARKS // FIGURES) == 0 else 6
        marks += ["M", _at(x, mark / MARKS, RADIUS), "L", _at(x, mark / MARKS, RADIUS - length)]
    sheet.curve("fine", marks, name="marks")
    size, _, unit = turn.partition(" ")
    for place in range(FIGURES):
        figure = f"{(Decimal(size) * place / FIGURES).normalize():f}"
        across, y = _at(x, place / FIGURES, RADIUS - 24)
        sheet.text(across, y + 5, figure, anchor="middle", size=SMALL, name="figure")
    sheet.text(x, MIDDLE_Y + 34, unit, anchor="middle", size=SMALL)


def _at(x: float, share: float, far: float) -> Point:
    """A point of the face. It is rounded far above the last digit of any sine."""
    angle = 2 * math.pi * share
    return round(x + far * math.sin(angle), 2), round(MIDDLE_Y - far * math.cos(angle), 2)
