"""An expansion vessel cold and hot: the gas gives way to the water that the heat adds."""

from math import sqrt
from typing import Any

from build_tools.diagrams.given import FigureName, Figures
from build_tools.diagrams.kit import Sheet

PARAMS = {name: FigureName() for name in ("pre_charge", "cold", "hot", "safety_valve", "air")}
UNIT = "bar"
TOP, FOOT, HALF, CURVE = 92.0, 232.0, 52.0, 26.0  # of a vessel: its ends, half width, corners
EMPTY, COLD, HOT = 62.0, 180.0, 298.0  # middles of the three


def draw(sheet: Sheet, params: dict[str, Any], figures: Figures) -> None:
    """Draw the vessel three times: by itself, filled cold, and hot."""
    sheet.height = 340
    pressure = {name: figures.number(params[name], UNIT) for name in PARAMS}
    for x, words, name in (
        (EMPTY, ("Before", "filling"), "pre_charge"),
        (COLD, ("System", "cold"), "cold"),
        (HOT, ("System", "hot"), "hot"),
    ):
        share = gas_share(pressure["pre_charge"], pressure[name], air=pressure["air"])
        _vessel(sheet, x, share)
        sheet.lines(x, 24, words, anchor="middle", bold=True)
        sheet.text(x, 66, figures.text(params[name]), anchor="middle")
    sheet.text(EMPTY, TOP + 44, "Gas", anchor="middle")
    sheet.text(HOT, FOOT - 12, "Water", anchor="middle")
    sheet.text(180, 288, "Safety valve opens at", anchor="middle")
    sheet.text(180, 308, figures.text(params["safety_valve"]), anchor="middle", bold=True)
    sheet.text(180, 330, "The hot system stays below it", anchor="middle")


def gas_share(pre_charge: float, pressure: float, *, air: float) -> float:
    """How much of the vessel is gas: the same gas in less room, by absolute pressure."""
    return min(1.0, (pre_charge + air) / (pressure + air))


def _vessel(sheet: Sheet, x: float, share: float) -> None:
    """Gas above the diaphragm, water below it; full of gas before the system is filled."""
    level = TOP + share * (FOOT - TOP)
    half = _half_width(level)
    bottom = (
        f"{_curve_from(x - half, level)} A{CURVE} {CURVE} 0 0 0 {x - HALF + CURVE} {FOOT} "
        f"H{x + HALF - CURVE} A{CURVE} {CURVE} 0 0 0 {x + half} {max(level, FOOT - CURVE)}"
    )
    if share < 1:
        sheet.path("water", f"{bottom} V{level}z")
        sheet.polyline("mark", (x - half, level), (x + half, level))
    else:
        sheet.polyline("mark", (x - half, FOOT - 3), (x + half, FOOT - 3))
    sheet.rect("body", (x - HALF, TOP), 2 * HALF, FOOT - TOP, corner=CURVE)
    sheet.rect("body", (x - 5, TOP - 12), 10, 12, corner=2)
    sheet.polyline("line", (x, FOOT), (x, FOOT + 18))


def _curve_from(left: float, level: float) -> str:
    """Where the water's edge meets the rounded foot of the vessel."""
    return f"M{left} {level} V{max(level, FOOT - CURVE)}"


def _half_width(level: float) -> float:
    """Half the width of the vessel there: less where its foot is round."""
    below = max(0.0, level - (FOOT - CURVE))
    return HALF - CURVE + sqrt(CURVE**2 - below**2)
