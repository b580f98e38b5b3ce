"""Timing a gas meter: the index at the start and at the end, and a watch between them."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import Sheet

PARAMS = {
    "first": FigureName(),
    "second": FigureName(),
    "used": FigureName(),
    "elapsed": FigureName(),
}
DIGIT_WIDTH, DIGIT_HEIGHT = 22.0, 30.0


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the two readings, the watch, and what they come to."""
    sheet.height = 316
    sheet.text(16, 24, "Start the watch", bold=True)
    _index(sheet, 34, figures.scalar(params["first"]))
    sheet.text(16, 208, "Stop the watch", bold=True)
    _index(sheet, 218, figures.scalar(params["second"]))
    _watch(sheet, 286, 122, figures.text(params["elapsed"]))
    sheet.lines(16, 106, ("Read every figure,", "and those after", "the decimal point."))
    sheet.text(16, 302, f"Second less first: {figures.text(params['used'])}", bold=True)


def _index(sheet: Sheet, top: float, scalar: str) -> None:
    """The figures of the index in their windows; those after the point are marked."""
    number, _, unit = scalar.partition(" ")
    whole, _, part = number.partition(".")
    x = 16.0
    for place, digit in enumerate(whole.rjust(5, "0") + part):
        after = place >= max(5, len(whole))
        if after and place == max(5, len(whole)):
            sheet.circle("solid", x + 3, top + DIGIT_HEIGHT - 3, 2.5)
            x += 8
        look = "mark_body" if after else "body"
        sheet.rect(look, (x, top), DIGIT_WIDTH, DIGIT_HEIGHT, corner=2)
        sheet.text(x + DIGIT_WIDTH / 2, top + 22, digit, anchor="middle", size=18, bold=True)
        x += DIGIT_WIDTH + 3
    sheet.text(x + 6, top + 21, unit)


def _watch(sheet: Sheet, x: float, y: float, elapsed: str) -> None:
    radius = 50
    sheet.rect("body", (x - 7, y - radius - 14), 14, 12, corner=2)
    sheet.circle("body", x, y, radius)
    for across, down in ((0, -1), (1, 0), (0, 1), (-1, 0)):
        sheet.polyline(
            "fine",
            (x + across * (radius - 9), y + down * (radius - 9)),
            (x + across * (radius - 3), y + down * (radius - 3)),
        )
    sheet.text(x, y + 7, elapsed, anchor="middle", size=19, bold=True)
