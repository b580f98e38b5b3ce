"""Purging: gas pushes the air out of the pipework at its far end, into an aired room."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import SMALL, Sheet

PARAMS = {"first": FigureName(), "second": FigureName()}
RUN = 70.0  # level of the pipe
METER, BRANCH, END = 54.0, 150.0, 312.0  # where the meter, the branch and the last drop stand
FRONT = 250.0  # how far the gas has come
HOB_LEFT, HOB_RIGHT, HOB_TOP, HOB_FOOT = 204.0, 294.0, 208.0, 246.0


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the meter, the pipe that fills with gas, the closed branch and the purge point."""
    sheet.height = 376
    _pipes(sheet)
    _meter(sheet)
    _branch(sheet)
    _purge_point(sheet)
    _window(sheet)
    _detector(sheet)
    sheet.text(16, 336, f"Before {figures.text(params['first'])}")
    sheet.text(16, 357, f"After {figures.text(params['second'])}")


def _pipes(sheet: Sheet) -> None:
    sheet.polyline(
        "gas",
        *((METER - 8, 104), (METER - 8, RUN - 8), (FRONT, RUN - 8)),
        *((FRONT, RUN + 8), (METER + 8, RUN + 8), (METER + 8, 104)),
        closed=True,
    )
    outer = ((END + 8, RUN - 8), (END + 8, 238), (HOB_RIGHT, 238))
    sheet.polyline("line", (METER - 8, 104), (METER - 8, RUN - 8), *outer)
    sheet.polyline("line", (METER + 8, 104), (METER + 8, RUN + 8), (BRANCH - 8, RUN + 8))
    inner = ((END - 8, RUN + 8), (END - 8, 222), (HOB_RIGHT, 222))
    sheet.polyline("line", (BRANCH + 8, RUN + 8), *inner)
    for x in (BRANCH - 8, BRANCH + 8):
        sheet.polyline("line", (x, RUN + 8), (x, 116))
    sheet.arrow("line", (82, RUN), (130, RUN), head=8)
    sheet.text(106, 50, "Gas", anchor="middle", bold=True)
    sheet.text(282, 50, "Air", anchor="middle", bold=True)
    sheet.arrow("line", (END, 96), (END, 150), head=8)


def _meter(sheet: Sheet) -> None:
    sheet.rect("body", (16, 104), 76, 70, corner=8)
    sheet.rect("line", (26, 114), 56, 18, corner=2)
    sheet.text(METER, 160, "Meter", anchor="middle", bold=True)
    sheet.lines(16, 208, ("Read it before", "and after"), size=SMALL)


def _branch(sheet: Sheet) -> None:
    """Another appliance, shut off until the main run is done."""
    cross = ((-11, -13), (11, 13), (-11, 13), (11, -13))
    sheet.polyline("body", *((BRANCH + x, 130 + y) for x, y in cross), closed=True)
    sheet.polyline("line", (BRANCH - 16, 130), (BRANCH + 16, 130))
    sheet.lines(BRANCH, 166, ("Branch shut", "until later"), anchor="middle", size=SMALL)


def _purge_point(sheet: Sheet) -> None:
    width, height = HOB_RIGHT - HOB_LEFT, HOB_FOOT - HOB_TOP
    sheet.rect("mark_body", (HOB_LEFT, HOB_TOP), width, height, corner=4)
    for x in (222, 240, 258, 276):
        sheet.arrow("mark", (x, HOB_TOP - 4), (x, HOB_TOP - 24), head=8)
    sheet.lines(248, 266, ("Open burner", "at the far end"), anchor="middle", bold=True)


def _window(sheet: Sheet) -> None:
    sheet.rect("line", (312, 300), 36, 60)
    sheet.polyline("line", (312, 300), (290, 312), (290, 370), (312, 360))
    sheet.arrow("line", (318, 330), (344, 330), head=7)
    sheet.lines(280, 330, ("Window", "open"), anchor="end")


def _detector(sheet: Sheet) -> None:
    sheet.rect("body", (24, 252), 52, 56, corner=8)
    sheet.rect("line", (33, 260), 34, 18, corner=3)
    sheet.path("line", "M76 268 h14 q8 0 8 -8 v-6")
    sheet.lines(88, 290, ("Gas", "detector"), size=SMALL)
