"""What pint says of the units of this trade, taken from its own file of a thousand.

Every process that calculates reads them when it starts, and to read all of them takes several times
as long. What a unit is stays pint's: a line is taken as it stands or left.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from importlib.resources import files

# Names of `unit_names`, and what pint says them by. Dimensions stand in brackets.
_NEEDED = """
    meter second ampere gram mole kelvin radian
    pi standard_gravity standard_atmosphere conventional_mercury_density
    [area] [volume] [velocity] [acceleration] [force] [energy] [power] [pressure]
    degree percent ppm minute hour day year degree_Celsius degree_Fahrenheit
    inch foot yard grain pound ounce force_pound liter
    imperial_gallon imperial_quart imperial_pint imperial_fluid_ounce
    newton pascal bar pound_force_per_square_inch meter_Hg inch_Hg
    joule watt watt_hour british_thermal_unit therm
    coulomb volt ohm hertz
"""
NEEDED = frozenset(_NEEDED.split())
# Which units a quantity comes to when it is asked for none.
_BLOCKS = ("@defaults", "@system mks ")
_FILES = ("default_en.txt", "constants_en.txt")  # beside pint's own code
_NAMED = re.compile(r"\s*(?P<name>\[?\w+\]?)(?P<prefix>-)?\s*=")


def definitions() -> list[str]:
    """Lines that a registry of pint loads: every prefix, and the units that are needed."""
    # A registry of pint reads these two by itself when it is given no lines. No formula reads any.
    texts = (files("pint").joinpath(name).read_text(encoding="utf-8") for name in _FILES)
    return [line for text in texts for line in _taken(text.splitlines())]


def _taken(lines: Iterable[str]) -> Iterator[str]:
    """Groups of units are left out: no formula asks for one. Their units are taken alone."""
    in_block = False
    for line in lines:
        in_block = in_block or line.startswith(_BLOCKS)
        named = _NAMED.match(line)
        if in_block or (named and (named["prefix"] or named["name"] in NEEDED)):
            yield line.strip()
        in_block = in_block and not line.startswith("@end")
