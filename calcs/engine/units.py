"""Units and numbers: how a typed value is read and how a quantity is shown."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, ClassVar, TypeAlias

import pint
from pint.util import UnitsContainer

from calcs.engine.request_errors import WrongUnit
from calcs.engine.typed_number import PLAIN_NUMBER, number_at_start, read_number
from calcs.engine.unit_definitions import definitions
from calcs.engine.unit_reader import NoUnit, unit_name


class _Quantity(pint.UnitRegistry.Quantity):  # type: ignore[type-arg]
    """pint's quantity, which asks nothing of a float that comes with a unit."""

    def __new__(cls, value: Any, units: Any = None) -> Any:
        """Make it as pint does, or from what pint would find after its questions."""
        if type(value) is not float or not isinstance(units, str | UnitsContainer | pint.Unit):
            return super().__new__(cls, value, units)
        made = object.__new__(cls)
        made._magnitude = value
        units = ureg.parse_units(units) if isinstance(units, str) else units
        made._units = units if isinstance(units, UnitsContainer) else units._units
        return made


class _Unit(pint.UnitRegistry.Unit):
    """pint's unit, whose text is made once: limits are told by it many times at each key."""

    _texts: ClassVar[dict[UnitsContainer, str]] = {}  # there are few: a closed list, and its powers

    def __str__(self) -> str:
        if self._units not in self._texts:
            self._texts[self._units] = super().__str__()
        return self._texts[self._units]


@lru_cache(maxsize=4096)
def one_of_a_kind(units: UnitsContainer) -> UnitsContainer:
    """The first container that was equal to this one.

    Tables that are asked for a unit find the very object at once, and compare no others.
    """
    return units


class _Registry(pint.UnitRegistry[Any]):
    """pint's registry, which reads each name of a unit once: reading takes longer than using it."""

    Quantity: Any = _Quantity
    Unit: Any = _Unit

    @lru_cache(maxsize=512)  # noqa: B019  # there is one registry, as long as the program runs
    def parse_units(self, *arguments: Any, **options: Any) -> Any:
        found = super().parse_units(*arguments, **options)
        found._units = one_of_a_kind(found._units)
        return found

    @lru_cache(maxsize=512)  # noqa: B019  the same
    def parse_units_as_container(self, *arguments: Any, **options: Any) -> UnitsContainer:
        """What `to` asks when its unit is a text. pint keeps only names without a prefix."""
        return one_of_a_kind(super().parse_units_as_container(*arguments, **options))


ureg = _Registry(definitions())
# The trade writes "in w.g." for what pint calls inH2O: a column of water at its greatest density.
_WATER = "1000 * kilogram / meter**3 * g_0"
ureg.define(f"inch_water_gauge = inch * {_WATER} = inWG")
ureg.define(f"millimetre_water_gauge = millimeter * {_WATER} = mmWG")
Quantity = ureg.Quantity
# What a formula takes and gives. pint's own generics add nothing that mypy can check here.
Q: TypeAlias = Any

# Minutes and seconds as a stopwatch shows them, and only where a colon can mean nothing else.
_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9](?:\.[0-9]+)?)(?: ?min)?", re.ASCII)
# The same in words: "1m 48s", "1 min 48 sec". The seconds at its end keep the m from being a metre.
_IN_WORDS = re.compile(
    r"([0-9]{1,3}) ?m(?:ins?)? ?([0-5]?[0-9](?:\.[0-9]+)?) ?s(?:ecs?)?", re.ASCII | re.IGNORECASE
)
# What follows a number and may be meant as a unit: "5 mbar mbar" is told as a wrong unit, "1 2" and
# "1;2" as a wrong number.
_UNIT = re.compile(r"[A-Za-zµμ°º℃℉%ΩΔ\"″”“].*", re.DOTALL)
_SHOWN = {
    "inWG": "in w.g.",
    "mmWG": "mm w.g.",
    "Δ°C": "°C",
    "delta_degC": "°C",
    "Δ°F": "°F",
    "imperial_gal": "UK gal",
    "imperial_pt": "UK pt",
    "imperial_qt": "UK qt",
    "imperial_floz": "UK fl oz",
    "thm": "therm",
    "Btu": "Btu",
}
_STEPS = {
    "degree_Celsius": "delta_degree_Celsius",
    "degree_Fahrenheit": "delta_degree_Fahrenheit",
}
_ANGLES = {"degree", "radian"}
_HEAT = ("joule", "watt", "watt_hour", "british_thermal_unit", "therm")  # whatever their prefix
_DEGREES = "deg"  # of an angle: a sign that stands at its number


@lru_cache(maxsize=512)
def parse_unit(text: str) -> pint.Unit:
    """Unit from its text, in pint's own spelling, as the trade writes it or as it is shown.

    Raises:
        NoUnit: The text is no unit of the trade.
    """
    # pint sees no text of a reader's: it would work out 9^(9^9), and take a cup for a volume.
    found: pint.Unit = ureg.parse_units(unit_name(text).replace("^", "**"))
    return found


@lru_cache(maxsize=2048)
def parse_quantity(text: str) -> Q:
    """Quantity from one scalar of a data file: number, space, unit.

    Raises:
        ValueError: The text is not a number followed by a unit.

    >>> parse_quantity("21 mbar").to("Pa").magnitude
    2100.0
    """
    number, _, unit = text.strip().partition(" ")
    if not PLAIN_NUMBER.fullmatch(number):
        raise ValueError(f"{text!r} is not a number, a space and a unit")
    return Quantity(float(number), parse_unit(unit))


@lru_cache(maxsize=512)  # from one key to the next, most figures are what they were
def read_quantity(field: str, text: str, unit: str, expected: tuple[str, ...]) -> Q:
    """Quantity from what was typed; a unit in the text itself goes before `unit`.

    Args:
        field: Name of the input, for the message.
        text: What was typed.
        unit: Unit chosen beside the text.
        expected: Units of the kinds that are wanted, the chief one first.

    Raises:
        NotANumber: No plain number stands at the start of the text.
        WrongUnit: The unit is unknown or of another kind than `expected`.

    >>> read_quantity("elapsed", "2:01", "s", ("s", "min")).magnitude
    121.0
    """
    typed = text.strip()
    if (clock := _CLOCK.fullmatch(typed)) and _takes_clock(field, expected):
        return Quantity(60 * float(clock[1]) + float(clock[2]), "s")
    if (words := _IN_WORDS.fullmatch(typed)) and same_kind(expected[0], "s"):
        return Quantity(60 * float(words[1]) + float(words[2]), "s")
    number = number_at_start(typed)
    own_unit = typed[len(number) :].strip()
    if number and _UNIT.fullmatch(own_unit):
        typed = number
    else:
        own_unit = ""
    value = read_number(field, typed, _how_to_type(field, number, expected))
    return Quantity(value, _wanted_unit(field, own_unit or unit, expected))


def _wanted_unit(field: str, text: str, expected: tuple[str, ...]) -> pint.Unit:
    """The unit typed, where it is of a kind that is wanted."""
    try:
        found = parse_unit(text)
    except NoUnit as problem:
        raise WrongUnit(field, found=text, unit=unit_text(expected[0]), why=problem.why) from None
    if not any(same_kind(found, kind) for kind in expected):
        is_water = found == parse_unit("in") and same_kind(expected[0], "mbar")
        why = "Write in w.g. where it is inches of water." if is_water else ""
        raise WrongUnit(field, found=text, unit=unit_text(expected[0]), why=why)
    if not same_kind(expected[0], "kelvin"):
        return found
    if is_scale(parse_unit(expected[0])):
        if is_step(found):
            why = "That is a difference of temperatures."
            raise WrongUnit(field, found=text, unit=unit_text(expected[0]), why=why)
        return found
    return step_of(found)


def is_scale(unit: pint.Unit) -> bool:
    """Whether a unit counts from a nought of its own, as a thermometer does."""
    return str(unit) in _STEPS


def is_step(unit: pint.Unit) -> bool:
    """Whether a unit can only be of a difference of temperatures."""
    return str(unit) in _STEPS.values()


def step_of(unit: pint.Unit) -> pint.Unit:
    """The unit of a difference, of the unit that a thermometer is read in; any other as it is.

    A rise and a temperature are written alike, and are not the same.
    """
    return parse_unit(_STEPS[str(unit)]) if is_scale(unit) else unit


def _takes_clock(field: str, expected: tuple[str, ...]) -> bool:
    """Whether 2:01 can only be minutes and seconds.

    With hours on offer it may be hours and minutes, in a row of a table the time of day.
    """
    return same_kind(expected[0], "s") and "h" not in expected and "[" not in field


def _how_to_type(field: str, number: str, expected: tuple[str, ...]) -> str:
    if _takes_clock(field, expected):
        return "Type seconds, or minutes and seconds with a colon, such as 2:01."
    if same_kind(expected[0], "s"):
        return "Type one number, and after it a unit such as s or min."
    unit = unit_text(expected[0])
    return f"Type one number, and after it {unit} or no unit." if number and unit else ""


def same_kind(one: pint.Unit | str, other: pint.Unit | str) -> bool:
    """Whether two units measure the same thing. Percent and ppm are of one kind, a bare 1 too.

    An angle has no dimension either, and is none of them. Heat of a cubic metre has the dimension
    of a pressure: a few megajoules would be some tens of bar.
    """
    left = one if isinstance(one, pint.Unit) else parse_unit(one)
    right = other if isinstance(other, pint.Unit) else parse_unit(other)
    return left.dimensionality == right.dimensionality and _kind(left) == _kind(right)


def _kind(unit: pint.Unit) -> tuple[bool, bool]:
    """What the dimension of a unit leaves open: whether it measures an angle, and heat."""
    return bool(_ANGLES & {*unit._units}), counts_heat(unit)


def counts_heat(unit: pint.Unit) -> bool:
    """Whether a unit is made of one of heat, as MJ/m³ is.

    >>> counts_heat(parse_unit("MJ/m³")), counts_heat(parse_unit("mbar"))
    (True, False)
    """
    return any(name.endswith(_HEAT) for name in unit._units)


def at_most(value: Q, limit: Q) -> bool:
    """Whether a value is at a bound or below it, the last digits of a conversion aside.

    A band of a table must hold its own end, typed in whatever unit.

    >>> at_most(Quantity(0.1 + 0.2, "kW"), Quantity(300, "W"))
    True
    """
    bound = float(limit.magnitude)
    return bool(value.to(limit.units).magnitude <= bound + 1e-9 * abs(bound))


@lru_cache(maxsize=512)
def unit_text(unit: Any) -> str:
    """Unit as the trade writes it.

    >>> unit_text("m**3/h")
    'm³/h'
    """
    parsed = parse_unit(unit) if isinstance(unit, str) else unit
    text = format(parsed, "~P").replace("μ", "µ")
    for name, shown in _SHOWN.items():
        text = text.replace(name, shown)
    return text


@lru_cache(maxsize=512)
def unit_code(unit: pint.Unit) -> str:
    """Unit in the spelling that the command line and the data files use."""
    return f"{unit:~C}"


def number_and_unit(number: str, unit: Any) -> tuple[str, str]:
    """The two as they are shown, for whoever puts them in places of their own.

    >>> number_and_unit("2.6", "m**3/h"), number_and_unit("45", "degree")
    (('2.6', 'm³/h'), ('45°', ''))
    """
    text = unit_text(unit)
    return (f"{number}°", "") if text == _DEGREES else (number, text)


def join_unit(number: str, unit: Any) -> str:
    """Number and unit with the space between them that cannot break over a line."""
    shown, text = number_and_unit(number, unit)
    return f"{shown}\N{NO-BREAK SPACE}{text}" if text else shown
