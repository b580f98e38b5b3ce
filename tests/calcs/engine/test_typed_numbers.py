"""Commas in numbers: taken where they can only part thousands, refused wherever they may not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcs.engine.declarations import COUNTED, Input
from calcs.engine.parse_value import check_whole
from calcs.engine.registry import calculators
from calcs.engine.request_errors import NotANumber, NotWhole
from calcs.engine.typed_number import read_number
from calcs.engine.units import Quantity
from tests.every_case import every_case
from tests.tables.rows import TODAY

THOROUGH = settings(max_examples=500, deadline=None, derandomize=True)


def read(bridge, calculator: str, name: str, text: str, **more: str) -> object:
    """What a field was read as, or why it was refused."""
    inputs = {key: {"value": value} for key, value in {**more, name: text}.items()}
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    reply = bridge.reply(request)
    if "refused" in reply:
        found = [one for one in reply["refused"] if one["field"] == name]
        return found[0]["message"] if found else reply["refused"]
    one = reply["answer"]["inputs"][name]
    return one["value"], one["unit"]


RUN = {"volume": "0.1 m³", "elapsed": "120 s"}
HEAT = {"kind": "heat_input"}
SYSTEM = {"flow_temperature": "75 °C"}


@pytest.mark.parametrize(
    ("calculator", "name", "text", "value", "unit", "more"),
    [
        ("gas_rate", "plate_input", "80,000 Btu/h", 80000, "Btu/h", RUN),
        ("gas_rate", "plate_input", "24,500 W", 24500, "W", RUN),
        ("gas_rate", "plate_input", "102,360.5 BTU/hr", 102360.5, "Btu/h", RUN),
        ("gas_rate", "plate_input", "24 KW", 24, "kW", RUN),
        ("gas_rate", "volume", "1 cu ft", 1, "ft**3", {**RUN, "elapsed": "35 secs"}),
        ("gas_rate", "elapsed", "2 mins", 2, "min", RUN),
        ("unit_converter", "heat_input", "80,000 Btu/h", 80000, "Btu/h", HEAT),
        ("unit_converter", "pressure", "2 kpa", 2, "kPa", {}),
        ("unit_converter", "pressure", "101,325 Pa", 101325, "Pa", {}),
        ("unit_converter", "pressure", "-1,013.25 mbar", -1013.25, "mbar", {}),
        ("unit_converter", "volume", "1,234,567 l", 1234567, "l", {"kind": "volume"}),
        ("unit_converter", "volume", "1,234.5 m³", 1234.5, "m**3", {"kind": "volume"}),
        ("unit_converter", "volume", "2 pints", 2, "imperial_pt", {"kind": "volume"}),
    ],
)
def test_what_is_plain_is_taken(bridge, calculator, name, text, value, unit, more):
    assert read(bridge, calculator, name, text, **more) == (value, unit)


@pytest.mark.parametrize(
    ("calculator", "name", "text", "fix", "more"),
    [
        # A decimal comma is likelier: three places of a meter, of a litre, of a bar.
        ("gas_rate", "volume", "0,088 m³", "Write the decimal point as a full stop.", RUN),
        ("gas_rate", "first_reading", "12,345 m³", "Write 12345 or 12.345.", {"method": "index"}),
        ("gas_rate", "first_reading", "345,678 m³", "Write 345678 or 345.678.",
         {"method": "index"}),
        ("gas_rate", "first_reading", "12345,678 m³", "Write the decimal point as a full stop.",
         {"method": "index"}),
        ("expansion_vessel", "system_volume", "12,345 l", "Write 12345 or 12.345.", SYSTEM),
        ("unit_converter", "pressure", "1,234 Pa", "Write 1234 or 1.234.", {}),
        ("unit_converter", "pressure", "21,500 mbar", "Write 21500 or 21.500.", {}),
        ("unit_converter", "volume", "1,234 l", "Write 1234 or 1.234.", {"kind": "volume"}),
    ],
)  # fmt: skip
def test_what_may_be_read_in_two_ways_is_refused_with_both(
    bridge, calculator, name, text, fix, more
):
    assert fix in str(read(bridge, calculator, name, text, **more))


NO_NUMBERS = [
    "1,5", "0,088", "12,34", "1,2345", "80,0000", "80,000,", ",500", "80,,000", "1,23,456",
    "1.234,5", "1.234.567", "01,234,567", "00012,345", "012,345", "80,000e3", "80, 000", "80 000",
    "8'000", "80,000.", "80,000.5.1", "１２,345,678", "-0,500", "1_000", "0x10", "1e999", "½", "",
]  # fmt: skip


@every_case("text", NO_NUMBERS)
def test_a_slip_is_no_number(text):
    with pytest.raises(NotANumber):
        read_number("volume", text)


@THOROUGH
@given(st.integers(10_000, 10**12), st.sampled_from(["", ".5", ".25"]))
def test_thousands_parted_by_python_are_read_as_they_were(whole, decimals):
    assert math.isclose(read_number("x", f"{whole:,}{decimals}"), float(f"{whole}{decimals}"))


@THOROUGH
@given(st.text(alphabet="0123456789,.-+e ", max_size=12))
def test_a_number_is_what_python_reads_without_its_commas(text):
    """Whatever is taken is the number that its digits spell, by Python's own reader."""
    try:
        found = read_number("x", text)
    except NotANumber:
        return
    assert found == float(text.replace(",", ""))
    groups = text.strip(" +-").partition(".")[0].split(",")
    assert all(len(group) == 3 for group in groups[1:])
    assert len(groups) == 1 or (groups[0][0] != "0" and 1 <= len(groups[0]) <= 3)


def test_what_has_no_unit_is_counted_or_is_one_of_these_ratios():
    """A new field without a unit says which it is: of what is counted no fraction is taken."""
    ratios = {
        *("discharge_coefficient", "ratio_limit", "resistance"),
        *("relative_density", "new_relative_density", "stated_relative_density"),
    }
    bare = [
        column
        for calculator in calculators().values()
        for item in calculator.inputs
        for column in getattr(item, "columns", (item,))
        if isinstance(column, Input) and not column.unit
    ]
    assert {item.name for item in bare if item.uncertainty != COUNTED} == ratios
    for item in bare:
        if item.uncertainty == COUNTED:
            with pytest.raises(NotWhole):
                check_whole(item, item.name, Quantity(item.low + 0.5, ""))
