"""The units that are loaded are pint's to the last digit, and none that may be typed is missing.

The reference is pint as it comes.
"""

from __future__ import annotations

import pytest

from calcs.engine.unit_definitions import NEEDED, definitions
from calcs.engine.unit_names import PHRASES, SYMBOLS, WORDS
from calcs.engine.units import Quantity, ureg
from tests.calcs.engine.plain_pint import plain_pint
from tests.every_case import every_case

OURS = {"inch_water_gauge", "millimetre_water_gauge"}  # pint has neither
NAMES = sorted({*SYMBOLS.values(), *WORDS.values(), *PHRASES.values()} - OURS)


@every_case("name", [name.replace("^", "**") for name in NAMES])
def test_a_unit_is_what_pint_as_it_comes_makes_of_it(name: str) -> None:
    found, wanted = ureg.parse_units(name), plain_pint().parse_units(name)
    assert dict(found._units) == dict(wanted._units)
    assert found.dimensionality == wanted.dimensionality
    assert [f"{found:~P}", f"{found:~C}", str(found)] == [
        f"{wanted:~P}",
        f"{wanted:~C}",
        str(wanted),
    ]
    for way in ("to_base_units", "to_root_units"):
        here = getattr(Quantity(7.3, found), way)()
        there = getattr(plain_pint().Quantity(7.3, wanted), way)()
        assert repr(here.magnitude) == repr(there.magnitude)
        assert str(here.units) == str(there.units)


def test_every_line_that_is_needed_is_found_and_few_others() -> None:
    lines = [line.partition("=")[0].strip() for line in definitions() if "=" in line]
    named = {name for name in lines if not name.endswith("-")}
    assert named - {"group", "system"} == NEEDED
    assert {f"{each}-" for each in ("micro", "milli", "kilo", "mega")} < {*lines}


def test_a_unit_of_another_trade_is_not_there() -> None:
    with pytest.raises(AttributeError, match="parsec"):
        ureg.parse_units("parsec")
