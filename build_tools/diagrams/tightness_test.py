"""The arrangement for let-by and tightness: control, regulator, meter, gauge and pipework."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures, OneOf
from build_tools.diagrams.kit import Sheet

PARAMS = {"stage": OneOf(("let_by", "test")), "shown": FigureName(optional=True)}
SERVICE, OUTLET, DROP = 46.0, 178.0, 294.0  # where the three upright pipes stand
RUN = 48.0  # level of the pipe from the meter to the appliance


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the arrangement, and mark what this part of the test is about."""
    let_by = params["stage"] == "let_by"
    sheet.height = 340
    _pipes(sheet, let_by=let_by)
    _control(sheet, let_by=let_by)
    _meter(sheet)
    _appliance(sheet)
    _gauge(sheet, figures.text(params["shown"]) if params["shown"] else "mbar")
    if let_by:
        sheet.lines(16, 306, ("Does gas pass", "this when shut?"), bold=True)
    else:
        sheet.text(180, 24, "Does gas get out of this pipework?", anchor="middle", bold=True)


def _pipes(sheet: Sheet, *, let_by: bool) -> None:
    sheet.polyline("gas_line", (SERVICE, 280), (SERVICE, 78), (118, 78), (118, 92))
    look = "gas_line" if let_by else "mark"
    sheet.polyline(look, (OUTLET - 14, 92), (OUTLET - 14, RUN), (DROP, RUN), (DROP, 132))
    sheet.arrow("line", (22, 276), (22, 240))


def _control(sheet: Sheet, *, let_by: bool) -> None:
    _valve(sheet, SERVICE, 218, marked=let_by, shut=True)
    sheet.lines(76, 206, ("Emergency", "control,", "turned off"), bold=let_by)
    sheet.circle("body", SERVICE, 148, 17)
    sheet.text(SERVICE, 153, "R", anchor="middle", bold=True)
    sheet.text(72, 182, "Regulator")
    sheet.lead((74, 170), (58, 158))


def _valve(sheet: Sheet, x: float, y: float, *, marked: bool = False, shut: bool = False) -> None:
    look = "mark_body" if marked else "body"
    cross = ((x - 11, y - 14), (x + 11, y + 14), (x - 11, y + 14), (x + 11, y - 14))
    sheet.polyline(look, *cross, closed=True)
    handle = ((x - 17, y), (x + 17, y)) if shut else ((x, y - 17), (x, y + 17))
    sheet.polyline("mark" if marked else "line", *handle)


def _meter(sheet: Sheet) -> None:
    sheet.rect("body", (100, 92), 82, 72, corner=8)
    sheet.rect("line", (112, 104), 58, 18, corner=2)
    sheet.text(141, 148, "Meter", anchor="middle", bold=True)


def _appliance(sheet: Sheet) -> None:
    _valve(sheet, DROP, 94)
    sheet.text(DROP + 18, 99, "Open")
    sheet.rect("body", (DROP - 35, 132), 70, 46, corner=6)
    sheet.text(DROP, 160, "Off", anchor="middle", bold=True)
    sheet.text(DROP, 198, "Appliance", anchor="middle")


def _gauge(sheet: Sheet, shown: str) -> None:
    sheet.rect("body", (OUTLET - 8, 66), 14, 12, corner=2)
    sheet.path(
        "tube", f"M{OUTLET + 2} 72 H192 C210 72 210 84 210 110 V170 C210 220 264 220 264 262"
    )
    sheet.rect("body", (200, 262), 128, 62, corner=8)
    sheet.rect("line", (211, 272), 106, 42, corner=4)
    sheet.text(264, 299, shown, anchor="middle", bold=True)
    sheet.text(328, 252, "Gauge", anchor="end")
    sheet.lines(222, 78, ("Test", "point"))
    sheet.lead((220, 72), (184, 70))
