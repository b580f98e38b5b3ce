"""Where the pressure goes on the way from the meter to the burner, at full load and at rest."""

from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import SMALL, Sheet
from calcs.engine.rounding import short_number

STAGES = ("meter_working", "inlet_working", "burner")
PARAMS = {name: FigureName() for name in ("meter_standing", *STAGES)}
UNIT = "mbar"
METER, INLET, VALVE, BURNER, ROOM = 48.0, 152.0, 180.0, 282.0, 310.0  # along the sheet
FLOOR, CEILING = 250.0, 56.0  # no pressure, and the highest that is drawn


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the two lines of pressure over the parts that the gas goes through."""
    sheet.height = 332
    pressure = {name: figures.number(params[name], UNIT) for name in PARAMS}
    scale = (FLOOR - CEILING) / max(pressure.values())
    level = {name: FLOOR - value * scale for name, value in pressure.items()}
    _parts(sheet)
    standing = level["meter_standing"]
    sheet.polyline("broken", (METER, standing), (VALVE, standing), (VALVE, FLOOR))
    sheet.text(METER + 4, standing - 9, f"Standing {figures.text(params['meter_standing'])}")
    meter, inlet, burner = (level[name] for name in STAGES)
    working = (
        *((METER, meter), (INLET, inlet), (VALVE - 8, inlet), (VALVE + 8, burner)),
        *((BURNER, burner), (ROOM, FLOOR)),
    )
    sheet.polyline("gas", *working, (METER, FLOOR), closed=True)
    sheet.polyline("mark", *working)
    sheet.text(METER + 6, meter + 22, figures.text(params["meter_working"]), bold=True)
    sheet.text(INLET, inlet + 40, figures.text(params["inlet_working"]), anchor="end", bold=True)
    sheet.lead((INLET - 4, inlet + 26), (INLET - 1, inlet + 2))
    sheet.text(BURNER - 1, burner + 22, figures.text(params["burner"]), anchor="end", bold=True)
    lost = short_number(round(pressure["meter_working"] - pressure["inlet_working"], 6), 4)
    sheet.text(METER + 6, FLOOR - 46, "Lost in the pipe")
    sheet.text(METER + 6, FLOOR - 26, f"{lost}\N{NO-BREAK SPACE}{UNIT}", bold=True)


def _parts(sheet: Sheet) -> None:
    sheet.text(8, 22, "Pressure of the gas", bold=True)
    sheet.polyline("fine", (METER, CEILING - 20), (METER, FLOOR), (344, FLOOR))
    sheet.polyline("gas_line", (METER, 272), (BURNER, 272))
    for x in (METER, INLET, VALVE, BURNER):
        sheet.polyline("lead", (x, FLOOR), (x, 264))
    sheet.rect("body", (METER - 14, 262), 28, 20, corner=3)
    sheet.polyline(
        "body",
        (VALVE - 11, 263),
        (VALVE + 11, 281),
        (VALVE + 11, 263),
        (VALVE - 11, 281),
        closed=True,
    )
    for x in (BURNER - 8, BURNER, BURNER + 8):
        sheet.path("mark", f"M{x} 274 v-8")
    sheet.text(METER, 304, "Meter", anchor="middle")
    sheet.text(INLET - 6, 304, "Inlet", anchor="end")
    sheet.text(VALVE, 322, "Gas valve", anchor="middle")
    sheet.text(BURNER, 304, "Burner", anchor="middle")
    sheet.text(ROOM - 2, FLOOR - 8, "Room", size=SMALL)
    sheet.text(METER - 20, FLOOR + 5, "0", anchor="end", size=SMALL)
