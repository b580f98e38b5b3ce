"""Figures of a question: number, space, unit as one text; on an instrument's step, in decimals."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from calcs.engine.units import Q, parse_quantity, parse_unit, unit_text
from calcs.practice.integers import Integers

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
CLOCK = "minutes_and_seconds"
CALENDAR = ("day", "week", "month", "year")  # whole words, as on the pages
Values = dict[str, str]


def split(text: str) -> tuple[Decimal, str]:
    """Number and unit of a figure.

    >>> split("0.088 m³")
    (Decimal('0.088'), 'm³')
    """
    number, _, unit = text.partition(" ")
    return Decimal(number), unit


def join(number: Decimal, unit: str) -> str:
    """A figure from the two."""
    return f"{number:f} {unit}".rstrip()


def drawn(how: Mapping[str, Any], integers: Integers) -> str:
    """One figure or word, as its template says: one of a list, or any on the step between two."""
    if "choose" in how:
        return str(integers.choose(how["choose"]))
    (low, unit), (high, _), (step, _) = (split(how[key]) for key in ("from", "to", "step"))
    count = int((high - low) / step)
    return join(low + step * integers.below(count + 1), unit)


def shown(text: str, how: Mapping[str, Any]) -> str:
    """A figure as a stem shows it.

    >>> shown("125 s", {"shown": "minutes_and_seconds"})
    '2:05'
    """
    if text in how.get("say", {}):
        return str(how["say"][text])
    if how.get("shown") == CLOCK:
        seconds, _ = split(text)
        return f"{int(seconds) // 60}:{int(seconds) % 60:02}"
    number, _, unit = text.partition(" ")
    if not number.lstrip("-").replace(".", "").isdigit():
        return text
    number = number.replace("-", "\N{MINUS SIGN}")
    if unit in CALENDAR:
        return f"{number}{NO_BREAK_SPACE}{unit}{'' if number == '1' else 's'}"
    return f"{number}{NO_BREAK_SPACE}{unit_text(unit)}" if unit else number


def quantity(text: str) -> Q:
    """A figure as a quantity."""
    return parse_quantity(text if " " in text else f"{text} ")


def on_step(value: Q, step: str) -> str:
    """A quantity rounded to a step, in the step's unit."""
    size, unit = split(step)
    number = float(value.to(parse_unit(unit)).magnitude)
    if not math.isfinite(number):
        raise ValueError("no finite figure came of what was drawn")
    count = (Decimal(repr(number)) / size).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return join(count * size, unit)
