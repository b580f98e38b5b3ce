"""The index of a gas meter: wheels in windows. The last may stand between two figures.

While the last wheel goes from nine to nought, the next is carried along with it.
"""

from __future__ import annotations

from collections.abc import Mapping

from calcs.practice.gauges.sheet import SMALL, Sheet

WIDE, HIGH, GAP, POINT = 32.0, 46.0, 4.0, 12.0
HEIGHT = 96.0
WHOLE = 5  # wheels before the point
RED = {"m³": 3, "ft³": 0}  # and after it


def wheels(shows: str) -> tuple[str, str, int]:
    """Figures before the point and after it, and by how many tenths the last wheel has gone on.

    >>> wheels("412.3985 m³"), wheels("2571 ft³")
    (('00412', '398', 5), ('02571', '', 0))
    """
    number, _, unit = shows.partition(" ")
    whole, _, part = number.partition(".")
    red = RED[unit]
    turned = part[red : red + 1] or "0"
    return whole.rjust(WHOLE, "0"), part[:red].ljust(red, "0"), int(turned)


def words(given: Mapping[str, str]) -> str:
    """Each window from the left; the last, where it stands between two figures."""
    whole, part, turned = wheels(given["shows"])
    unit = given["shows"].partition(" ")[2]
    told = f"{' '.join(whole)} in black"
    if part:
        told += f", a point, then {' '.join(part)} in red"
    between = ""
    if turned:
        last = int((whole + part)[-1])
        between = f" The last wheel has left {last}, and {(last + 1) % 10} comes."
    when = f"{given['when']}, from the left" if given.get("when") else "From the left"
    return f"The index of a gas meter in {unit}. {when}: {told}.{between}"


def draw(sheet: Sheet, given: Mapping[str, str], *, solved: bool) -> None:
    """Draw one index.

    Args:
        sheet: Where it is drawn, under what is there.
        given: `shows`, number and unit, with one decimal more than there are wheels where the last
            has gone on; `when` it shows that.
        solved: With what the red figures are.
    """
    sheet.begin(HEIGHT)
    whole, part, turned = wheels(given["shows"])
    figures = whole + part
    if given.get("when"):
        sheet.text(10, 16, given["when"], size=SMALL, bold=True)
    x = 10.0
    for place, figure in enumerate(figures):
        if place == len(whole):
            sheet.circle("solid", x + 4, 24 + HIGH - 3, 3)
            x += POINT
        sheet.rect("mark_body" if place >= len(whole) else "body", (x, 24), WIDE, HIGH, corner=3)
        is_carried = set(figures[place + 1 :]) <= {"9"}
        _wheel(sheet, x + WIDE / 2, int(figure), turned if is_carried else 0)
        x += WIDE + GAP
    sheet.text(x + 2, 24 + HIGH - 10, given["shows"].partition(" ")[2], bold=True, name="unit")
    if solved and part:
        text = f"{len(part)} figures after the point"
        sheet.text(x - GAP, 90, text, anchor="end", size=SMALL, look="mark_fill")


def _wheel(sheet: Sheet, x: float, figure: int, turned: int) -> None:
    """The figure in its window; on its way up, with the next that comes from below."""
    if not turned:
        sheet.text(x, 56, str(figure), anchor="middle", size=27, bold=True, name="wheel")
        return
    # Between two figures each is drawn smaller, so that both stand whole in the window.
    up = turned / 10 * 22
    sheet.text(x, 46 - up + 8, str(figure), anchor="middle", size=19, bold=True, name="leaving")
    coming = str((figure + 1) % 10)
    sheet.text(x, 68 - up + 8, coming, anchor="middle", size=19, bold=True, name="coming")
