"""Reads a value of a data file as the calculators will, and tells of what kind it is."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

# What a figure may be that has no unit. `number` is a plain one, such as a ratio or a factor.
NUMBER, COUNT, EDITION, WORD, PROVENANCE = "number", "count", "edition", "word", "provenance"
WHOLE = (COUNT, EDITION)
NO_UNIT = "no unit"


def quantity(text: str) -> Any:
    """The quantity that a text says, or nothing where calcs could not read it."""
    # calcs reads the same texts with the same function, so what passes here passes there.
    from calcs.engine.units import parse_quantity  # noqa: PLC0415  calcs may be half written

    try:
        return parse_quantity(text)
    except ValueError:
        return None


def measure_in(text: str) -> Any:
    """What a value such as `21 mbar` measures, or nothing where it is no figure."""
    read = quantity(text)
    return None if read is None else _measure(read)


@lru_cache(maxsize=512)
def measure_of(unit: str) -> Any:
    """What a unit measures, or nothing where it is no unit. Equal for units of one kind.

    pint alone would take one for the other where a slip costs most: a bare 120 and 120 %, percent
    and degrees of an angle, percent²/K and percent/K, a temperature and a difference of two, a
    pressure and the heat of a volume.
    """
    read = quantity(f"1 {unit}".strip())
    return None if read is None else _measure(read)


def _measure(read: Any) -> Any:
    from calcs.engine.units import Quantity, counts_heat  # noqa: PLC0415  calcs may be half written

    parts = dict(read.unit_items())
    if not parts:
        return NO_UNIT
    shares = angles = 0
    for name, power in parts.items():
        part = Quantity(1.0, name).units
        if part.dimensionless:
            is_angle = str(Quantity(1.0, name).to_base_units().units) == "radian"
            angles, shares = (angles + power, shares) if is_angle else (angles, shares + power)
    reads_temperature = any(name in {"degree_Celsius", "degree_Fahrenheit"} for name in parts)
    dimension = frozenset(read.dimensionality.items())
    return (dimension, shares, angles, reads_temperature, counts_heat(read.units))


Holder = Mapping[str, Any]  # a figure, a column or an instrument, which has a unit or a kind


def is_declared(holder: Holder) -> bool:
    """Whether a figure, a column or an instrument says what its values are, and it can be read."""
    unit, kind = holder.get("unit"), holder.get("kind")
    if kind is not None:
        return isinstance(kind, str) and unit is None
    return isinstance(unit, str) and measure_of(unit) is not None


def misfit(text: str, holder: Holder) -> tuple[str, str] | None:
    """What is wrong with a figure beside what its holder declares, and how to mend it.

    A figure whose holder declares nothing that can be read need only be readable by itself.
    """
    kind, unit = holder.get("kind"), holder.get("unit")
    if kind in {WORD, PROVENANCE}:
        return None
    read = quantity(text)
    if read is None:
        return f"'{text}' can't be read.", "write it like that, with a full stop for the decimals"
    found = _measure(read)
    if not is_declared(holder):
        return None
    if kind is not None:
        return _not_plain(text, read, str(kind))
    if found == measure_of(str(unit)):
        return None
    if found == NO_UNIT:
        return f"'{text}' has no unit.", f"write '{text} {unit}', if that is meant"
    return f"'{text}' does not measure what '{unit}' does.", "use one kind of unit all through"


def _not_plain(text: str, read: Any, kind: str) -> tuple[str, str] | None:
    if _measure(read) != NO_UNIT:
        return f"'{text}' has a unit, and is declared: {kind}.", "declare 'unit' in place of 'kind'"
    if kind in WHOLE and not float(read.magnitude).is_integer():
        return f"'{text}' is not whole, and is declared: {kind}.", "write a whole number"
    return None
