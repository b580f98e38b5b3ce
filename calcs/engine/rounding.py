"""Rounding: how many figures of a number are shown, alone and beside its uncertainty."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Context, Decimal
from functools import lru_cache

# Of the usual 28 digits an odd reading could ask for more, and decimal would refuse.
_AS_LONG_AS_NEEDED = Context(prec=400, rounding=ROUND_HALF_UP)
_TENS = tuple(10.0**places for places in range(13))
# Below the first, a float's own rounding moves a count of last places by far less than the second.
_EXACT_ENOUGH = 1e10
_NEXT_TO_A_TIE = 1e-4


def round_half_up(value: float, places: int) -> str:
    """Number with a fixed count of places, 0.5 upwards as in the trade's sheets.

    >>> round_half_up(2.675, 2), round_half_up(-0.001, 1), round_half_up(1e30, 2)[-5:]
    ('2.68', '0.0', '00.00')
    """
    if 0 <= places < len(_TENS):
        last_places = abs(value) * _TENS[places]
        if last_places < _EXACT_ENOUGH and abs(last_places % 1 - 0.5) > _NEXT_TO_A_TIE:
            # C rounds alike where no lone 5 decides, and many times sooner.
            text = f"{value:.{places}f}"
            return text if value > 0 or text.strip("-0.") else text.lstrip("-")
    # repr(): 2.675 is a hair under in binary, and a reader checks it with the digits shown.
    rounded = Decimal(repr(value)).quantize(_last_place(places), context=_AS_LONG_AS_NEEDED)
    return f"{abs(rounded) if rounded == 0 else rounded:f}"


@lru_cache(maxsize=64)
def _last_place(places: int) -> Decimal:
    return Decimal(1).scaleb(-places)


def short_number(value: float, digits: int = 6) -> str:
    """Number with as many digits as it needs, at most `digits` that count, no exponent.

    >>> short_number(0.0880), short_number(122.0), short_number(1 / 3, 4)
    ('0.088', '122', '0.3333')
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = round_half_up(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def decimals_of(number: str) -> int:
    """Decimal places of a number as it is written; none where a power of ten follows.

    >>> decimals_of("20.10"), decimals_of("21"), decimals_of("2.10e-3")
    (2, 0, 0)
    """
    places = number.partition(".")[2]
    return len(places) if places.isdecimal() else 0


def _first_place(width: float) -> int:
    """Decimal place of the first digit that counts."""
    return -math.floor(math.log10(width))


def format_with_uncertainty(value: float, width: float, places: int) -> tuple[str, str]:
    """A number and its uncertainty, both to one place (JCGM 100, 7.2.6).

    The uncertainty has two digits that count, or one where the number is not shown further. A
    number whose uncertainty would vanish is shown as far as the uncertainty's first digit. An
    uncertainty that is nothing but the last digits of a float is not shown.

    Args:
        value: The number.
        width: Its expanded uncertainty, above nought.
        places: Decimal places of the number where its uncertainty does not say otherwise.

    >>> (
    ...     format_with_uncertainty(27.94361, 0.7, 2),
    ...     format_with_uncertainty(4418.2, 102.3, 0),
    ...     format_with_uncertainty(3.58581, 0.00046, 2),
    ... )
    (('27.94', '0.70'), ('4420', '100'), ('3.5858', '0.0005'))
    >>> format_with_uncertainty(26.4, 0.996, 2)
    ('26.4', '1.0')
    """
    first = _first_place(width)
    if float(round_half_up(width, first + 1)) >= float(f"1e{1 - first}"):
        first -= 1  # 0.996 to two digits is 1.0
    if first > places + 4:
        return round_half_up(value, places), ""
    place = max(first, min(places, first + 1))
    return round_half_up(value, place), round_half_up(width, place)
