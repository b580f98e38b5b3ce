"""Figures of seven bars, as a display shows them."""

from __future__ import annotations

from calcs.practice.gauges.sheet import Point, Sheet

# Which bars each figure lights: a at the top, on with the clock to f, and g in the middle.
BARS = dict(
    zip(
        "0123456789-",
        (
            "abcdef",
            "bc",
            "abged",
            "abgcd",
            "fgbc",
            "afgcd",
            "afgedc",
            "abc",
            "abcdefg",
            "abcdfg",
            "g",
        ),
        strict=True,
    )
)
WIDE, HIGH, GAP = 24.0, 44.0, 10.0
DOT = 8.0


def width_of(text: str) -> float:
    """How wide a number stands."""
    places = (DOT if each in ".:" else WIDE + GAP for each in text)
    return sum(places, start=-GAP)


def number(sheet: Sheet, right: float, top: float, text: str) -> None:
    """A number whose last figure ends at `right`. A point or a colon takes a place of its own."""
    x = right - width_of(text)
    for each in text:
        if each in ".:":
            for y in [HIGH - 3] if each == "." else [HIGH * 0.3, HIGH * 0.7]:
                sheet.circle("solid", x - GAP / 2 + DOT / 2, top + y, 3)
            x += DOT
        else:
            _figure(sheet, x, top, each)
            x += WIDE + GAP


def _figure(sheet: Sheet, x: float, top: float, figure: str) -> None:
    middle, foot, end = top + HIGH / 2, top + HIGH, x + WIDE
    places = {
        "a": ((x, top), (end, top)),
        "b": ((end, top), (end, middle)),
        "c": ((end, middle), (end, foot)),
        "d": ((x, foot), (end, foot)),
        "e": ((x, middle), (x, foot)),
        "f": ((x, top), (x, middle)),
        "g": ((x, middle), (end, middle)),
    }
    bars: list[str | Point] = []
    for bar in BARS[figure]:
        start, end_of = places[bar]
        bars += ["M", start, "L", end_of]
    sheet.curve("thick", bars, name="bars")
