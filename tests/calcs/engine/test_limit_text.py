"""A limit is shown as what it is in whatever unit the reader types."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from calcs.bridge import Bridge
from calcs.engine.declarations import Input
from calcs.engine.findings import Compare
from calcs.engine.judging import judge
from calcs.engine.registry import all_inputs, calculators
from calcs.engine.units import Q, Quantity, parse_unit, same_kind
from calcs.engine.verdict_words import limit_text, places_shown
from tests.calcs.engine.judged import judged
from tests.tables.every_row import every_row
from tests.tables.rows import Row, rows

ROWS = [row for row in rows() if "refused" not in row.facts]
UNITS = sorted(
    {
        unit
        for calculator in calculators().values()
        for item in all_inputs(calculator)
        for cell in getattr(item, "columns", (item,))
        if isinstance(cell, Input)
        for unit in (cell.unit, *cell.also)
        if unit and not unit.startswith("delta_")
    }
)


def shown(low: str | None, high: str | None, unit: str, places: int = 1) -> str:
    """The text of a limit given in one unit and read in another."""

    def quantity(text: str | None) -> Q | None:
        if text is None:
            return None
        number, _, own = text.partition(" ")
        return Quantity(float(number), parse_unit(own))

    least, most = quantity(low), quantity(high)
    reading = next(one for one in (least, most) if one is not None).to(parse_unit(unit))
    finding = Compare("any", reading, least, most, places=places)
    return limit_text(finding, places_shown(finding)).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("low", "high", "unit", "text"),
    [
        # 1.15 and 1.25 kPa with one place would be 1.2 and 1.3.
        ("11.5 mbar", "12.5 mbar", "kPa", "1.15 to 1.25 kPa"),
        ("11.5 mbar", "12.5 mbar", "mbar", "11.5 to 12.5 mbar"),
        ("11.5 mbar", "12.5 mbar", "bar", "0.0115 to 0.0125 bar"),
        ("19 mbar", "23 mbar", "bar", "0.019 to 0.023 bar"),
        ("19 mbar", "23 mbar", "kPa", "1.9 to 2.3 kPa"),
        ("19 mbar", "23 mbar", "Pa", "1900.0 to 2300.0 Pa"),
        (None, "200 ppm", "percent", "at most 0.02 %"),
        (None, "350 ppm", "percent", "at most 0.035 %"),
        (None, "0.0040 ", "percent", "at most 0.4 %"),
        ("20.6 percent", None, "ppm", "at least 206000.0 ppm"),
        (None, "1 mbar", "inWG", "at most 0.4 in w.g."),  # 1 ÷ 2.490889 = 0.4015
        (None, "1 mbar", "bar", "at most 0.001 bar"),
        ("300 mm", None, "m", "at least 0.3 m"),
        # × 3412.1416
        ("25.2 kW", "29.4 kW", "Btu/h", "85986.0 to 100317.0 Btu/h"),
        (None, "0 mbar", "kPa", "at most 0.0 kPa"),
    ],
)
def test_a_limit_is_not_rounded_into_another(low, high, unit, text):
    assert shown(low, high, unit) == text


@every_row(ROWS)
def test_what_is_printed_is_the_limit_in_every_unit(row: Row, bridge: Bridge) -> None:
    found = judged(bridge, row.request)
    if found is None:
        return
    for one in found[0]:
        if not isinstance(one, Compare):
            continue
        own = one.unit or one.reading.units
        for unit in {own, *(unit for unit in UNITS if one.unit is None and same_kind(unit, own))}:
            finding = replace(one, unit=unit)
            assert_is_near(
                finding, limit_text(finding, places_shown(finding, judge(one, found[1])))
            )


def assert_is_near(one: Compare, text: str) -> None:
    """Within 1 % of the true limit, and of two within a twentieth of half their distance."""
    true = [limit.to(one.unit).magnitude for limit in (one.low, one.high) if limit is not None]
    printed = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?", text)]
    assert len(printed) >= len(true), text
    width = 0.05 * abs(true[-1] - true[0]) / 2 if len(true) > 1 else float("inf")
    for number, limit in zip(printed, true, strict=False):
        assert abs(number - limit) <= min(0.01 * abs(limit), width) + 1e-12, (text, true)
