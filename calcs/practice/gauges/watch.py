"""A stopwatch with a display: minutes, a colon, seconds and a tenth."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from calcs.practice.gauges import segments
from calcs.practice.gauges.sheet import SMALL, Sheet

LEFT, WIDTH = 70.0, 220.0
HEIGHT = 112.0


def display(elapsed: str) -> str:
    """What it shows after some seconds.

    >>> display("125.4 s"), display("59 s")
    ('2:05.4', '0:59.0')
    """
    seconds = Decimal(elapsed.partition(" ")[0])
    minutes = int(seconds // 60)
    return f"{minutes}:{seconds - 60 * minutes:04.1f}"


def words(given: Mapping[str, str]) -> str:
    """What the display shows, figure by figure."""
    return f"A stopwatch. Its display shows {display(given['elapsed'])}."


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw the watch.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `elapsed`, in seconds.
        solved: With the names of its places.
    """
    sheet.begin(HEIGHT)
    sheet.rect("body", (LEFT + WIDTH / 2 - 10, 2), 20, 12, corner=2)
    sheet.rect("body", (LEFT, 14), WIDTH, 74, corner=24)
    text = display(given["elapsed"])
    segments.number(sheet, LEFT + WIDTH - 28, 28, text)
    if solved:
        names = "minutes : seconds . tenths"
        sheet.text(180, 108, names, anchor="middle", size=SMALL, look="mark_fill")
