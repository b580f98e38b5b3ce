"""A number as it was typed, read strictly: a slip must never become another number."""

from __future__ import annotations

import math
import re

from calcs.engine.request_errors import NotANumber

# No underscore or letter outside ASCII: float() would take "1_000" and full-width digits.
_PLAIN = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
# Groups of exactly three, as 80,000 is written in Britain.
_GROUPED = r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?(?![0-9.,eE])"
NUMBER = re.compile(rf"[+-]?(?:{_GROUPED}|{_PLAIN})", re.ASCII)
PLAIN_NUMBER = re.compile(rf"[+-]?{_PLAIN}", re.ASCII)
_ONE_GROUP = re.compile(r"[+-]?([0-9]{1,3}),[0-9]{3}", re.ASCII)
_MINUS = "\N{MINUS SIGN}"


def number_at_start(text: str) -> str:
    """The part of a text that a number could be, for what follows it to be read as a unit.

    >>> number_at_start("80,000 Btu/h"), number_at_start("0,088 m³"), number_at_start("x")
    ('80,000', '0', '')
    """
    found = NUMBER.match(text.replace(_MINUS, "-"))
    return text[: found.end()] if found else ""


def read_number(field: str, text: str, fix: str = "") -> float:
    """Number from what was typed.

    A comma counts between thousands where it can be no decimal point by its form: in two places, or
    before a point, or after ten and more. Whether 12,345 can be 12.345 its field must say.

    Args:
        field: Name of the input, for the message.
        text: What was typed.
        fix: How to type it, where that is not plain.

    Raises:
        NotANumber: The text is not one plain finite decimal number.

    >>> read_number("volume", " 0.088 "), read_number("plate_input", "80,000")
    (0.088, 80000.0)
    """
    typed = text.strip()
    plain = without_commas(typed)
    if not PLAIN_NUMBER.fullmatch(plain):
        one = _ONE_GROUP.fullmatch(plain)
        # 1,234 may be either; 0,088 and 1,5 can only have a decimal comma.
        unclear = either_way(plain) if one and one[1][0] != "0" else fix
        comma = "," in typed and unclear == fix
        raise NotANumber(field, found=typed, comma=comma, fix=unclear)
    value = float(plain)
    if not math.isfinite(value):
        raise NotANumber(field, found=typed)
    return value


def without_commas(text: str) -> str:
    """A number without the commas between its thousands, where they can be nothing else."""
    plain = text.strip().replace(_MINUS, "-")
    lone = _ONE_GROUP.fullmatch(plain)
    is_clear = NUMBER.fullmatch(plain) and not (lone and len(lone[1]) == 1)
    return plain.replace(",", "") if is_clear else plain


def with_decimal_comma(text: str) -> float | None:
    """What a number is where its one comma is a decimal one: 12,345 as 12.345. Else None."""
    number = number_at_start(text.strip()).replace(_MINUS, "-")
    return float(number.replace(",", ".")) if _ONE_GROUP.fullmatch(number) else None


def either_way(number: str) -> str:
    """How to write a number whose comma may be read in two ways."""
    plain, decimal = number.replace(",", ""), number.replace(",", ".")
    return f"Its comma can be read in two ways. Write {plain} or {decimal}."
