"""Reads a value of a data file as the calculators will."""

from typing import Any


def quantity(text: str) -> Any:
    """The quantity that a text says, or nothing where calcs could not read it."""
    # calcs reads the same texts with the same function, so what passes here passes there.
    from calcs.units import parse_quantity  # noqa: PLC0415  calcs may be half written

    try:
        return parse_quantity(text)
    except ValueError:
        return None
