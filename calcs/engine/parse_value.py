"""One typed value: a word from a list, a date, a quantity within its range, or the default."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from datetime import date
from typing import Any

import pint

from calcs.engine.declarations import COUNTED, Choice, Day, Input, Instrument
from calcs.engine.errors import Missing, NotHeld, NotInForce, Refusal, Refused
from calcs.engine.in_force import InForce
from calcs.engine.request_errors import (
    NotADate,
    NotAnOption,
    NotANumber,
    NotChosen,
    NotWhole,
    OutOfRange,
    WrongForm,
)
from calcs.engine.request_form import kind_of, text_of
from calcs.engine.rounding import short_number
from calcs.engine.typed_number import either_way, number_at_start, with_decimal_comma
from calcs.engine.units import Q, Quantity, is_scale, join_unit, parse_unit, same_kind, unit_text

# Units whose whole numbers are finer than any instrument of the trade.
_SMALL = {str(parse_unit(unit)) for unit in ("W", "Btu", "Btu/h", "Pa", "ohm", "ppm", "mm**2", "J")}
LAST_DIGITS = 1e-12  # share of a float that a conversion may change
SCALES_APART = 460.0  # degrees that the noughts of scales of temperature are apart at most
_DATE = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_NAMES = re.compile(r"{(\w+)}")  # choices that the name of a default figure goes by


def parse_date(name: str, text: str) -> date:
    """A date as year, month and day: of a week or without lines between it would be a riddle.

    Raises:
        NotADate: It is no date, or is written in another way.
    """
    try:
        if _DATE.fullmatch(text):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise NotADate(name, found=text)


def day_of(request: Mapping[str, Any]) -> date:
    """Day of the test where no input names another.

    Raises:
        Refused: It is no date.
    """
    day = request.get("today")
    try:
        if not isinstance(day, str):
            raise WrongForm("date", found=kind_of(day), expected="a text such as 2026-03-01")
        return parse_date("date", day)
    except Refusal as refusal:
        raise Refused([refusal]) from None


def read_choice(
    item: Choice | Instrument, name: str, options: tuple[str, ...], entered: Any
) -> str | None:
    """The word chosen, or the default.

    Raises:
        NotChosen: Nothing was chosen and there is no default.
        NotAnOption: The word is not on the list.
    """
    text = text_of(name, entered) or (item.default or "")
    if not text:
        if isinstance(item, Choice) and item.optional:
            return None
        raise NotChosen(name, options=", ".join(options))
    if text not in options:
        near = difflib.get_close_matches(text, options, n=1)
        nearest = f" Did you mean {near[0]}?" if near else ""
        raise NotAnOption(name, found=text, options=", ".join(options), nearest=nearest)
    return text


def read_date(item: Day, entered: Any) -> date | None:
    """The date typed.

    Raises:
        Missing: Nothing was typed and the formula needs it.
        NotADate: It is no date.
    """
    text = text_of(item.name, entered)
    if not text and item.optional:
        return None
    if not text:
        raise Missing(item.name)
    return parse_date(item.name, text)


def check_range(item: Input, name: str, value: Q) -> None:
    """Refuse a value outside the range that the form accepts, and name the unit that was meant.

    Raises:
        OutOfRange: It is outside.
    """
    if _in_range(item, value):
        return
    number = float(value.magnitude)
    others = [] if item.any_kind else [Quantity(number, unit) for unit in (item.unit, *item.also)]
    near = [join_unit(short_number(number, 9), one.units) for one in others if _in_range(item, one)]
    raise OutOfRange(
        name,
        found=join_unit(short_number(number, 9), value.units),
        near=f" Did you mean {' or '.join(near)}?" if near else "",
        low=short_number(item.low, 9),
        high=short_number(item.high, 9),
        unit="" if item.any_kind else unit_text(item.unit),
        spelling="" if item.any_kind else item.unit,
    )


def check_whole(item: Input, name: str, value: Q) -> None:
    """Refuse a fraction of what is counted: half an elbow is a slip, or another part.

    Raises:
        NotWhole: It has a fraction.
    """
    number = float(value.magnitude)
    if item.uncertainty == COUNTED and not number.is_integer():
        raise NotWhole(name, found=short_number(number, 9))


def check_comma(item: Input, name: str, text: str, value: Q) -> None:
    """Refuse 12,345 where 12.345 is as likely: on a meter's drums the comma is the decimal point.

    Of a unit so small that nobody reads a thousandth of it, the comma can only part thousands.

    Raises:
        NotANumber: The comma may be read in two ways.
    """
    other = with_decimal_comma(text)
    if (
        other is None
        or has_no_thousandths(value.units)
        or not _in_range(item, Quantity(other, value.units))
    ):
        return
    number = number_at_start(text)
    raise NotANumber(name, found=text, fix=either_way(number))


def has_no_thousandths(unit: pint.Unit) -> bool:
    """Whether a unit is so small that a comma can only part thousands of it."""
    return str(unit) in _SMALL


def _in_range(item: Input, value: Q) -> bool:
    # An accuracy in percent stands beside one in the reading's unit; its number has the same range.
    own = parse_unit(item.unit)
    as_it_is = item.any_kind or value.units == own or not same_kind(value.units, own)
    in_unit = float((value if as_it_is else value.to(own)).magnitude)
    low, high = (_tolerance(end, own) for end in (item.low, item.high))
    return item.low - low <= in_unit <= item.high + high


def _tolerance(end: float, unit: pint.Unit) -> float:
    """The last digits of a conversion: the end of a range is accepted in any unit.

    Nought is nought in every unit, so nothing below it passes. A scale of temperature has another
    nought, from which it is converted.
    """
    return LAST_DIGITS * (abs(end) + (SCALES_APART if is_scale(unit) else 0))


def default_value(
    item: Input, name: str, choices: Mapping[str, Any], in_force: InForce
) -> Q | None:
    """The figure that stands in for an empty field; None where the formula can do without.

    Raises:
        Missing: The formula cannot do without.
        NotHeld: The handbook does not hold the figure.
        NotInForce: The figure has no value for that day.
    """
    if item.default is None:
        if item.optional:
            return None
        raise Missing(name)
    if any(choices.get(name) is None for name in _NAMES.findall(item.default)):
        return None  # the choice that it goes by was refused, and the reader is told that
    try:
        return in_force[item.default.format_map(dict(choices))]
    except NotHeld as problem:
        raise NotHeld(name, **problem.facts) from None
    except NotInForce as problem:
        raise NotInForce(name, **problem.facts) from None
